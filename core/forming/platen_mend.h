#pragma once

#include <optional>

#include "core/finding.h"
#include "core/forming/draw.h"
#include "core/forming/laying.h"
#include "core/job.h"
#include "geometry/loft.h"

namespace sillwright::core {

/// The first change of the job by which a check that falls short holds: a tilt, a smaller trim allowance or clamp
/// distance, another machine, for the gauge a thinner sheet; proven by laying the part anew. No value if none does, or
/// if something is missing. See platen_findings.
///
/// Precondition: `piece` is one of job.skirt.pieces.
std::optional<Mend> platen_mend(PlatenCheck check, const Job& job, const Piece& piece, const geometry::Loft& line,
                                const DrawPlan& draw);

/// Least to which a mend takes the trim allowance, and the clamp distance; the latter no less than half of the mould's
/// height either. Common practice, no source.
constexpr geometry::Length k_trim_least = geometry::millimetres(15.0);
constexpr geometry::Length k_clamp_distance_least = geometry::millimetres(40.0);

}  // namespace sillwright::core
