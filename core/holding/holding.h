#pragma once

#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::core {

/// Findings on whether the part stays on and holds its form: `mounts/<piece>/...` for deflection, strain and
/// buckling, `mounts/<mount>/pull` for what each fastener is asked. Stage::mounts.
std::vector<Finding> holding_findings(const Job& job, const CarModel& car, const MountPlan& plan);

}  // namespace sillwright::core
