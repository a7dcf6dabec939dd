#pragma once

#include <optional>

#include "core/car_model.h"
#include "geometry/units.h"

namespace sillwright::core {

/// The greatest standard deviation, in any direction, of a point of a door's body as its hinge axis places it, over
/// all of the body's bounding box and openings between `from` and `to`. Zero while the door is shut: there it was
/// measured as it stands. No value if the axis is not kept from the book.
///
/// Accuracy: never too small for the box, but for what happens between openings 1 degree apart: the deviation is convex
///   in the point, so that a corner of the box has the greatest.
std::optional<geometry::Length> axis_sd(const DoorModel& door, const BodyModel& body, geometry::Angle from,
                                        geometry::Angle to);

}  // namespace sillwright::core
