#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::app {

struct AssemblyRib {
    std::string label;
    double front_mm = 0.0, rear_mm = 0.0;              ///< Its two faces.
    double low_mm = 0.0, high_mm = 0.0, top_mm = 0.0;  ///< From side to side, and its height.
    bool chosen = false;
};

struct AssemblySpine {
    std::string label;
    double front_mm = 0.0, rear_mm = 0.0, side_mm = 0.0, thickness_mm = 0.0, height_mm = 0.0;
};

struct AssemblyBase {
    std::string label;
    double front_mm = 0.0, rear_mm = 0.0, low_mm = 0.0, high_mm = 0.0, thickness_mm = 0.0;
};

/// A distance to be measured when it stands.
struct AssemblyCheck {
    std::string words;  ///< "B1 to B2: 1873.4"
    /// Where, (x, side), if it can be drawn.
    std::optional<Eigen::Vector2d> from_mm, to_mm;
};

/// A buck put together.
///
/// Units and frame: millimetres of the buck: x rearward, side up the car, height off the base.
struct AssemblyPicture {
    std::string piece;
    std::string about;  ///< "10 ribs · 2 spines · base board · size 1.0062 along, 1.0062 across"
    std::vector<std::string> notes;
    std::vector<AssemblyRib> ribs;
    std::vector<AssemblySpine> spines;
    std::optional<AssemblyBase> base;
    std::vector<AssemblyCheck> checks;
    core::State state = core::State::not_measured;  ///< Worst of the piece's findings.
    core::BareUnit unit = core::BareUnit::mm;
    std::string words;  ///< What must be decided first; then nothing is drawn.
};

}  // namespace sillwright::app
