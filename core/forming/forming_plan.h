#pragma once

#include <memory>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/forming/as_sculpted.h"
#include "core/forming/blank.h"
#include "core/forming/draw.h"
#include "core/forming/flute_lanes.h"
#include "core/forming/formed_sheet.h"
#include "core/forming/ladder.h"
#include "core/forming/platen.h"
#include "core/forming/scribe_ticks.h"
#include "core/forming/thinning.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "geometry/result.h"

namespace sillwright::core {

/// How one drawn piece is formed.
struct PieceForming {
    std::size_t piece = 0;  ///< Number in job.skirt.pieces.
    DrawPlan draw;
    Thinning thinning;
    Platen platen;
    Blank blank;
    std::vector<FluteLane> lanes;
    std::vector<LadderOf> ladders;
    ScribeTicks ticks;
    AsSculpted sculpted;
};

struct FormingPlan {
    std::vector<ChainStep> chain;
    std::vector<PieceForming> pieces;  ///< Those that are drawn to their end.
};

/// The scan of the prototype, or why there is none; null if the job names none.
using Prototype = std::shared_ptr<const geometry::Result<SculptedScan>>;

/// All that the stage Forming shows.
FormingPlan forming_plan(const Job& job, const CarModel& car, const Prototype& prototype = {});

/// All findings of the stage.
std::vector<Finding> forming_findings(const Job& job, const CarModel& car, const MountPlan& mounts,
                                      const FormingPlan& plan, Mends mends, const Prototype& prototype = {});

}  // namespace sillwright::core
