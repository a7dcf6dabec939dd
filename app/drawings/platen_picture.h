#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::app {

/// A line across the part on the platen, and what is said of it.
struct PlatenLine {
    Eigen::Vector2d from_mm = Eigen::Vector2d::Zero(), to_mm = Eigen::Vector2d::Zero();
    std::string words;
};

/// What stands out of the free window at one of its sides.
struct PlatenExcess {
    enum class Side { left, right, upper, lower };
    Side side = Side::left;
    double mm = 0.0;
    std::string words;  ///< "19 past the left clamp"
};

struct PlatenMount {
    std::string name;
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();
};

/// A piece of the skirt on the forming machine, seen along the draw direction.
///
/// Units and frame: millimetres on the platen, origin in the window's middle: the first axis along the machine's
///   length, the part's front end where it is negative; the second from the flange to the shelf.
struct PlatenPicture {
    std::string piece, machine;
    Eigen::Vector2d window_mm = Eigen::Vector2d::Zero(), free_mm = Eigen::Vector2d::Zero();
    std::vector<Eigen::Vector2d> part_mm, mould_mm, need_mm;
    core::State state = core::State::not_measured;
    std::string verdict;  ///< "2.4 mm to spare", "38 mm too long"
    std::string set_up;   ///< "turned 3.2° · draw tilted 4.0° down · mould 112 mm high"
    std::vector<PlatenExcess> excess;
    std::vector<PlatenLine> set_backs, splits;
    std::vector<PlatenMount> mounts;
    core::BareUnit unit = core::BareUnit::mm;
    std::string words;  ///< What must be decided first; then nothing is drawn.
};

}  // namespace sillwright::app
