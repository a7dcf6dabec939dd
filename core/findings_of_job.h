#pragma once

#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// All findings of a job in the one order in which they are told, from its parts: those of the model and the body, of
/// reach, of the swing, of the buck's outlines, of fairness and of the measuring book. Worst margin first.
std::vector<Finding> findings_of_job(const Job& job, const CarModel& car, std::vector<Finding> reach,
                                     std::vector<Finding> swing, std::vector<Finding> outlines,
                                     std::vector<Finding> measured = {});

}  // namespace sillwright::core
