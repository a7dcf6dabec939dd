#pragma once
#include <vector>
#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
namespace sillwright::core {
std::vector<Finding> end_gap_findings(const Job& job, const CarModel& car, const MountPlan& plan);
}  // namespace sillwright::core
