#pragma once

#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "geometry/drawing.h"
#include "geometry/result.h"

namespace sillwright::core {

/// The flange of one piece laid flat, with its holes and slots.
///
/// Units and frame: millimetres of the flange's inside face: x along the car from the job's origin, rearward; y across,
///   from the corner at the flange's root to its free edge. So a flange that goes inboard is seen from below on a car's
///   right-hand side, from above on its left-hand side (a note says which face is up).
/// Layers: CUT_OUTSIDE the closed edge; DRILL round holes; CUT_INSIDE slots; ENGRAVE the line where the flat begins and
/// a
///   cross at the datum hole; NOTE words. A flange that is bent after forming begins where its bend does, laid flat:
///   the bend allowance before the flat (core/skirt/flange_bend.h).
/// Holes: as the job has them where it has them, else as they are proposed, and then the words say so.
/// Accuracy: as flat_flange: along is measured along the car, not along the flange.
struct FlangePattern {
    std::string stem;  ///< "flange_skirt", unlike any other's.
    std::size_t piece = 0;
    geometry::Drawing drawing;
    std::vector<std::string> notes;
};

/// One for each piece that has a flange, in their order. Where a bend is made after forming and its radius, neutral
/// line or springback is not known, the flange begins at its flat, and a note says so.
std::vector<FlangePattern> flange_patterns(const Job& job, const CarModel& car, const MountPlan& plan);

}  // namespace sillwright::core
