#pragma once

#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::core {

/// Whether the holes that the job has in the flange are those that are needed.
///
/// `mounts/<mount>/slot`: from the place where the hole's middle is needed to its nearer end >= half the length
///   needed; `mounts/<mount>/slot width`: its width >= the width needed; both by the worst case, the RSS beside it.
/// `mounts/locator` (`mounts/<piece>/locator` for further pieces): one round hole and no other that would have to
///   slide, not over a slot of the body, its play no more than planned.
/// Not measured: where the job has no hole yet, or something lacks that sizes depend on. Nothing of these is ever
///   close: a worst case holds or it does not.
/// Mends write the hole as planned (`HolePlan::cut`); that of the locator all holes that it is about.
/// Precondition: `plan` is that of the job and its car.
std::vector<Finding> hole_findings(const Job& job, const CarModel& car, const MountPlan& plan);

/// A mount's hole written as planned.
std::vector<FieldChange> hole_changes(const Job& job, const HolePlan& hole);

}  // namespace sillwright::core
