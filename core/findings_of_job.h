#pragma once

#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// All findings of a job in the one order in which they are told: those of the model, the body and fairness, then the
/// given ones, part by part (reach, swing, ...). Worst margin first.
std::vector<Finding> findings_of_job(const Job& job, const CarModel& car, std::vector<std::vector<Finding>> parts);

}  // namespace sillwright::core
