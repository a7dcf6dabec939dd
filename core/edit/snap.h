#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A place that a hand meant, and what it was drawn to.
struct Snapped {
    Eigen::Vector3d at_mm = Eigen::Vector3d::Zero();  ///< (along, out, up)
    Direction axis{0.0, 0.0, -1.0};                   ///< Away from the body: square to its line there.
    std::vector<std::string> to;                      ///< "the body's line", "hole H4", "whole millimetres".
};

/// What a press at (out, up) of the section at `along` means for a mount: a hole's own centre
/// within `reach`, else the nearest point of the body's line with whole units along the
/// line's own greater direction (whole millimetres, or sixteenths of an inch in a job in
/// inches) as far as the point stays on the line.
/// Accuracy: on the line within 1e-6 mm.
/// The axis is square to the line in the section plane, on the side that the line does not enclose; a line that
/// encloses nothing is left downwards.
/// A mount that is itself being moved must not be in `job`, or it is a hole to snap to.
/// No value where the body is not drawn there, or its line is further off than `reach`.
std::optional<Snapped> snap_mount(const Job& job, const CarModel& car, geometry::Length along,
                                  const Eigen::Vector2d& at_mm, geometry::Length reach);

/// What a press means for a node: on another node of the same name in a neighbouring section, else whole
/// units for each number that is within `reach` of one, else as it is.
Snapped snap_node(const Job& job, const std::string& node_id, const Eigen::Vector2d& at_mm, geometry::Length reach);

}  // namespace sillwright::core
