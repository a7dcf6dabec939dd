#pragma once

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// Whether the fastener's grip range holds what it goes through: body panel, spacer,
/// sheet, and the film of paint on the part's outside.
///
/// Two-sided: the margin is to the nearer end of the range. The sheet counts with the
///   thickness that the job gives it; a formed flange can be thinner.
/// Not measured: without panel, sheet, paint (0 if the part stays bare) or either
///   end of the range; what is known may fall short all the same.
/// Source: common practice, no source.
Finding grip_finding(const Job& job, const Mount& mount, const Piece& piece);

}  // namespace sillwright::core
