#pragma once

#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// One finding where the body is drawn in part, so that there is no line of it yet; none where it is all
/// drawn, or not begun: a job can do without.
std::vector<Finding> body_findings(const Job& job, const CarModel& car);

}  // namespace sillwright::core
