#pragma once

#include <Eigen/Core>
#include <string>
#include <utility>
#include <vector>

#include "core/survey/network.h"

namespace sillwright::core::survey {

/// Where two places of a point agreed alike with all that had been placed before it.
struct Branch {
    int point = 0;
    std::vector<int> from;  ///< Those that it was placed from: the mirror goes through them.
    Eigen::Vector3d taken_mm = Eigen::Vector3d::Zero();
    Eigen::Vector3d other_mm = Eigen::Vector3d::Zero();
};

/// Where a cluster's points would suit about as well.
struct OtherPose {
    std::vector<int> points;
    std::vector<Eigen::Vector3d> there_mm;
};

/// A rough place for every point, whether the readings fix it or not.
struct Placing {
    Eigen::VectorXd values;    ///< Of all unknowns.
    std::size_t choices = 0;   ///< How many points were ambiguous when they were placed.
    bool one_by_one = true;    ///< No search for several at once was needed.
    std::vector<bool> placed;  ///< By point: found from the readings.
    std::vector<OtherPose> other_poses;
    std::vector<Branch> branches;  ///< In the order in which they were met.
};

/// Point by point from those that are held, each where the readings to points already placed put it; several at once
/// where no single one can be placed. Each of two like places: the one nearer to the rough place in the book; else the
/// rearward one, else the outer, else the lower.
/// Adjusted roughly. Where the readings then do not suit each other, choices are tried the other way.
/// Deterministic; the order of the book does not matter beyond rounding.
Placing place_points(const Network& network, const Book& book);

/// Only point by point, with no rough places: the others stay unplaced.
Placing place_one_by_one(const Network& network);

/// The book's rough place of a point: only the coordinates that it gives, as pairs of coordinate and mm.
std::vector<std::pair<int, double>> rough_place(const Book& book, const std::string& name);

/// How far `at_mm` is from it, in mm; zero if there is none.
double from_rough_mm(const std::vector<std::pair<int, double>>& rough, const Eigen::Vector3d& at_mm);

/// Whether, of two places that suit alike, `a_mm` is to be taken.
bool preferred(const std::vector<std::pair<int, double>>& rough, const Eigen::Vector3d& a_mm,
               const Eigen::Vector3d& b_mm);

/// Points that share a number with it; of these the placed ones if `placed` is given. Rising.
std::vector<int> neighbours_of(const Network& network, int point, const std::vector<bool>* placed = nullptr);

/// Numbers of a point whose other points are all placed.
std::vector<int> numbers_to_placed(const Network& network, const std::vector<bool>& placed, int point);

}  // namespace sillwright::core::survey
