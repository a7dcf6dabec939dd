#pragma once

#include <stop_token>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::core {

/// Whether the part reaches its mounts, and can be fixed there.
///
/// For every mount with use "flange": six findings (see mount_findings.h), on the
///   piece of the skirt, carried by the body, whose stretch along the car holds it;
///   the nearest piece if none does. Then `mounts/unused` if there are unused mounts,
///   `mounts/top edge`, `mounts/measured` if there is no mount at all, `mounts/used`
///   if none is used, and `sections/<piece>/flange` for every drawn flange.
/// Hand: a left-hand job gives the same numbers; along, out and up know no hand.
/// Precondition: `car` is the model of `job`.
/// `plan`, if given, is that of job and car: it knows where mounts land, which takes most of the time.
std::vector<Finding> reach_findings(const Job& job, const CarModel& car, Mends mends = Mends::look_for,
                                    const MountPlan* plan = nullptr);

/// Those of one mount with use "flange". Mends are not looked for once a stop is asked for.
std::vector<Finding> mount_findings(const Job& job, const CarModel& car, const Mount& mount, Mends mends,
                                    const std::stop_token& stop = {}, const MountPlan* plan = nullptr);

}  // namespace sillwright::core
