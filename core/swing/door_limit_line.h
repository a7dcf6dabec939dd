#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// In a section: how high the skirt may stand below a swinging door.
struct DoorLimitLine {
    std::string door;
    geometry::Length along;
    std::vector<std::vector<Eigen::Vector2d>> chains_mm;  ///< (out, up), out rising in each.
    std::vector<std::string> missing;  ///< What the required gap lacks; the line is then too generous by that.
};

/// The part of a section that is looked at.
struct SectionWindow {
    Eigen::Vector2d low_mm, high_mm;  ///< (out, up)
};

/// Whether some of the shut door is at a place along the car: ahead of its hinge and behind its edge there is
/// nothing of it to look out for in a section.
bool stands_at(const DoorModel& door, geometry::Length along);
enum class LimitingDoors { all, standing_there };

/// The lower edge of all that a door sweeps at `along`, past shut included, grown by
/// the gap that each of its parts, and each piece that it carries, needs while it moves;
/// and of where it stands shut, grown by the gap that it needs there.
///
/// Method: in each column, `step` apart, a point rises from the window's lower edge
///   by what is proven free beyond the required gap, until hardly anything is left.
///   A point never rises past a place that is too near, so all that stands on a
///   column below the line keeps the gap.
/// Accuracy: no more than k_line_slack below the true edge where that is met at a
///   right angle to the column; between columns the chain is straight.
/// Shape: no point where the lower edge of the window is too near already, or where
///   nothing limits up to its upper edge: there the chain is broken.
/// Errors: as geometry::least_distance; stopped.
geometry::Result<std::vector<DoorLimitLine>> door_limit_lines(const Job& job, const CarModel& car,
                                                              geometry::Length along, const SectionWindow& window,
                                                              geometry::Length step, const geometry::Watch& watch = {},
                                                              LimitingDoors doors = LimitingDoors::all);

/// A window about the skirt's section at a place, wide enough for the line to be seen.
SectionWindow window_about(const CarModel& car, geometry::Length along);

constexpr geometry::Length k_line_slack = geometry::millimetres(0.1);

}  // namespace sillwright::core
