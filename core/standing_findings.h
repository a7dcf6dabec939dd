#pragma once

#include <memory>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "core/mounts/line_up.h"
#include "geometry/result.h"

namespace sillwright::core {

struct BuckPlan;
struct FormingPlan;
struct SculptedScan;

/// Findings that take more than a picture's time, so that they stand as they were while a hand drags: line-up, holding
/// on, keep-outs, forming and buck.
std::vector<Finding> standing_findings(const Job& job, const CarModel& car, const MountPlan& plan,
                                       const LineUp& line_up, const FormingPlan& forming, const BuckPlan& buck,
                                       Mends mends = Mends::look_for,
                                       const std::shared_ptr<const geometry::Result<SculptedScan>>& prototype = {});

}  // namespace sillwright::core
