#pragma once

#include <vector>

#include "app/checked_job.h"
#include "core/evaluate.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::app {

/// The door limit lines at one place, of the doors that stand there when shut; those
/// without a point are left out.
/// Errors: as core::door_limit_lines.
geometry::Result<std::vector<DoorLimit>> door_limits_at(const core::Evaluation& evaluation, geometry::Length along);

/// The same at every station.
geometry::Result<std::vector<DoorLimit>> door_limits_of_job(const core::Evaluation& evaluation);

}  // namespace sillwright::app
