#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

using PlaneLine = std::vector<Eigen::Vector2d>;

/// Lines of many points after they were thinned to few.
struct ThinnedLines {
    std::vector<PlaneLine> nodes;  ///< Of each line, from its first point to its last; equally many of each.
    Length deviation;              ///< Largest distance between a line and the straights between its nodes, measured.
};

/// Lines thinned together, so that the n-th node of one is the n-th of all others: corners that all of them have become
/// nodes of one name along the car. One line alone is thinned by the same rule.
///
/// Units and frame: millimetres; each line open and in its own plane.
/// Method: where any line leaves the straight between two nodes by more than `most`, all get a node between: each at
///   its own furthest point if it bends there too, else at the same part of its way.
/// Accuracy: no point of a line is further than `deviation` <= `most` from its straights, nor the other way round: the
///   stretch of line above a straight covers all of it, so what is far from the line would be far from the straight.
/// Errors: invalid_argument for no line, one of fewer than two different points, a number that is not finite, or `most`
///   not above zero.
/// Source: the rule for one line: D. H. Douglas, T. K. Peucker, Cartographica 10 (1973) 112 (from memory).
Result<ThinnedLines> thin(std::span<const PlaneLine> lines, Length most);

/// Largest distance of the points of `line` from the straights between `nodes`, each of which lies on it, in its
/// order, the first and the last at its ends.
Length greatest_deviation(const PlaneLine& line, const PlaneLine& nodes);

}  // namespace sillwright::geometry
