#pragma once

#include <functional>
#include <vector>

#include "core/buck/cut_part.h"
#include "core/buck/nesting.h"
#include "core/job.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::core {

/// What is cut for the buck, as far as it is known.
struct BuckWork {
    std::vector<CutPart> parts;
    Nesting nesting;
};

/// Parts of the plan, laid on their boards; nothing at all where the plan has no ribs.
/// Errors: as cut_parts and nesting.
geometry::Result<BuckWork> buck_work(const Job& job, const BuckPlan& plan, const geometry::Watch& watch = {},
                                     const std::function<void(const Nesting&)>& better = {});

/// What is found of the parts before they are laid: `buck/<piece>/cut ...`, `buck/boards/...`.
std::vector<Finding> parts_findings(const Job& job, const BuckPlan& plan, Mends mends);

/// What is found of their nest.
std::vector<Finding> work_findings(const Job& job, const BuckWork& work);

}  // namespace sillwright::core
