#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "core/finding.h"

namespace sillwright::app {

/// What one point that both sets have differs by.
struct DifferenceRow {
    std::string name;
    Eigen::Vector3d difference_mm = Eigen::Vector3d::Zero();  ///< Along, out, up.
    double distance_mm = 0.0, bound_mm = 0.0;
    core::State state = core::State::not_measured;
    std::string words;  ///< "within 2 mm", "surely over", "not sure".

    friend bool operator==(const DifferenceRow&, const DifferenceRow&) = default;
};

/// Two measured sets of the same points against each other.
///
/// Units and frame: millimetres; along, out, up.
struct DifferencesPicture {
    std::string heading;
    double limit_mm = 2.0;
    std::vector<DifferenceRow> rows;
    core::State state = core::State::not_measured;
    std::string verdict;  ///< In a few words, shown large.
    std::string words;    ///< What to do, or what is missing.

    friend bool operator==(const DifferencesPicture&, const DifferencesPicture&) = default;
};

}  // namespace sillwright::app
