#pragma once

#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::core {

/// All findings on holes, slots, fasteners and the places of holes to one another: hole_findings.h,
/// fastener_findings.h, edge_findings.h. Those of each mount alone on its flange (reach, edge, bend, seat, grip) are
/// reach.h's.
/// Precondition: `plan` is mount_plan(job, car).
std::vector<Finding> fitting_findings(const Job& job, const CarModel& car, const MountPlan& plan);

}  // namespace sillwright::core
