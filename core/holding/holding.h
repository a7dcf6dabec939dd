#pragma once

#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::core {

/// Findings on whether the part stays on and holds its form, for every piece that the body carries. Stage::mounts.
///
/// `mounts/<mount>/pull`, newtons: the greatest pull on a fastener of all load cases, at most `clip_share` of what it
///   holds. See core/holding/beam_cases.h for what pulls it.
/// `mounts/<piece>/deflection`: the greatest of all passing loads, by the hot modulus, at most `deflection_most`.
/// `mounts/<piece>/strain`, in percent: the greatest in the sheet, hot, and of its own weight by the creep modulus.
/// `mounts/<piece>/sag`: under its own weight after 1 000 h, by the creep modulus.
/// `mounts/<piece>/buckling between fasteners`: see core/holding/buckling.h.
/// `mounts/<piece>/step label`: where nobody may step on it; holds, and asks for a label.
/// `mounts/<piece>/flutes`: only where a flute does not fit; nothing else can be said of the piece then.
/// Not measured: whether people may step on it, a modulus, a density, what a fastener holds: listed where they count. A
///   load that can be computed may fall short all the same.
/// Mends: a thicker sheet, a fastener that holds more, slots that slide; each computed again with the change made.
std::vector<Finding> holding_findings(const Job& job, const CarModel& car, const MountPlan& plan,
                                      Mends mends = Mends::look_for);

}  // namespace sillwright::core
