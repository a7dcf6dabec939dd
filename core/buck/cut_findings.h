#pragma once

#include <vector>

#include "core/buck/buck_plan.h"
#include "core/buck/cut_part.h"
#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// `buck/<piece>/cut bit`, what the bit cannot reach with its place (`cut reach`), words that have no room (`cut
/// words`), tabs (`cut tabs`), labels that are not unique (`cut labels`), parts that cannot be cut (`cut parts`). None
/// for a piece without ribs.
std::vector<Finding> cut_findings(const Job& job, const BuckPlan& plan, const std::vector<CutPart>& parts,
                                  Mends mends = Mends::look_for);

}  // namespace sillwright::core
