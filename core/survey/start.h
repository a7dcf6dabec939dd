#pragma once

#include <Eigen/Core>
#include <map>
#include <string>
#include <vector>

#include "core/survey/book.h"
#include "core/survey/solution.h"

namespace sillwright::core::survey {

/// Rough places found from the readings alone, to start the adjustment from.
struct Start {
    std::map<std::string, Eigen::Vector3d> at_mm;     ///< Only points that the readings (and held coordinates) fix.
    std::map<std::string, Eigen::Vector2d> lean_rad;  ///< Roll and pitch of each set-up that the readings fix or hold.
    std::vector<LackingPoint> lacking;
    std::vector<Mirrored> mirrored;     ///< Ambiguities that no rough place in the book answers.
    std::vector<std::string> problems;  ///< No frame; parts that nothing ties together (naming a point of each).
};

/// Units and frame: the job's.
/// Accuracy: good enough that Gauss-Newton converges; consistent readings are met to a few of their sds.
/// Dropped readings take no part. A point is in `at_mm` only if all three coordinates are determined (rank of the
/// linearised readings), else it is in `lacking`.
Start find_start(const Book& book);

/// Distinct names of points in the book: those of its list first, then as the readings name them; names of numbers at
/// one place (a gap, a depth) alone are none.
std::vector<std::string> point_names(const Book& book);

/// The level direction and the string's and gauge's conventions in one place: the number that a reading would show.
/// Vertical of a set-up that leans by (roll, pitch): unit vector along (sin pitch, sin roll cos pitch, cos roll cos
/// pitch).
Eigen::Vector3d plumb_up(const Eigen::Vector2d& lean_rad);

}  // namespace sillwright::core::survey
