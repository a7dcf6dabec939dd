#pragma once

#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "geometry/result.h"

namespace sillwright::core {

/// Findings on what must stay free: `mounts/keep-out/<name>`: the least distance of part and fastener tips to each,
/// certified, against its clearance. Stage::mounts.
std::vector<Finding> keep_out_findings(const Job& job, const CarModel& car, const MountPlan& plan);

}  // namespace sillwright::core
