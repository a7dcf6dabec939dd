#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>

#include "core/edit/drawn_id.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::app {

/// Between which two neighbouring nodes of a drawn section a place lies.
struct Stretch {
    core::DrawnId drawn;
    std::size_t section = 0;
    std::size_t after = 0;                            ///< The node before it, in order.
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();  ///< The nearest point of the straight between them.
};

/// The stretch that is nearest to a place in the sections drawn at a station, of all bodies; none
/// beyond `reach`, or between stations.
std::optional<Stretch> nearest_stretch(const core::Job& job, geometry::Length along, const Eigen::Vector2d& at_mm,
                                       geometry::Length reach);

}  // namespace sillwright::app
