#pragma once

#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::core {

/// Findings on the car as it drives and is lifted: `mounts/road/...`: ground clearance, ramp breakover, approach
/// (ground.h), outer edges (outer_edges.h), drainage (drainage.h). Stage::mounts. `plan` is not read yet.
std::vector<Finding> road_findings(const Job& job, const CarModel& car, const MountPlan& plan,
                                   Mends mends = Mends::look_for);

}  // namespace sillwright::core
