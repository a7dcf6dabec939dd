#pragma once

#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "geometry/loft.h"

namespace sillwright::core {

struct DrawPlan;

/// `forming/<piece>/draft`: the least draft at the tilt that is used. `forming/<piece>/undercut`: the greatest depth.
///
/// Mends: a tilt that can be set up, if one is enough; else the least lean of nodes (core/forming/draft_lean.h), with a
///   tilt where the flange asks for one.
/// Not measured while the mould is not decided: then nothing is known to be needed.
std::vector<Finding> draw_findings(const Job& job, const Piece& piece, const geometry::Loft& line, const DrawPlan& plan,
                                   Mends mends);

}  // namespace sillwright::core
