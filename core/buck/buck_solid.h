#pragma once

#include <vector>

#include "core/buck/buck_plan.h"
#include "core/buck/cut_part.h"
#include "core/job.h"
#include "geometry/kernel/step_file.h"
#include "geometry/result.h"

namespace sillwright::core {

/// The buck as it stands, a solid for each board, before its edges are bevelled.
///
/// Units and frame: millimetres at the plug's size; x rearward from the plug's front end. On a car's right-hand side y
///   is the height above the base and z the side, upward on the car; on its left y runs the other way, so that the
///   buck's hand is right.
/// Errors: as plate_solid, led by the part.
geometry::Result<std::vector<geometry::NamedShape>> buck_solids(const Job& job, const BuckPlan& plan,
                                                                const std::vector<CutPart>& parts);

}  // namespace sillwright::core
