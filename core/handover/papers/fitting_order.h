#pragma once

#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "geometry/drawing.h"

namespace sillwright::core {

/// Mounts of a piece in the order in which they are fastened: the locator, then outward to both sides by turns, the
/// guide's side first; without a locator from the front. Empty without a mount that lands.
std::vector<std::string> fitting_order(const MountPlan& plan, std::size_t piece);

/// The flange from below with its holes, true in shape and place, each numbered by that order.
///
/// Frame: x rearward, so that the front end is on the left. Seen from below a left-hand part has out upward, and a
///   right-hand one downward.
/// Layers: CUT_OUTSIDE the flange, DRILL holes, NOTE numbers, names and "FRONT". Empty where there is no flange.
geometry::Drawing order_picture(const Job& job, const CarModel& car, const MountPlan& plan, std::size_t piece);

}  // namespace sillwright::core
