#pragma once

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

struct PieceModel;

/// Whether the fastener's grip range holds what it goes through: body panel, spacer, the flange as it is formed, and
/// the film of paint on the part's outside.
///
/// Two-sided: the margin is to the nearer end of the range, by two standard deviations of the stack (stack.h). With the
///   piece's model the flange is as thick as computed there. One whose thickness is not known counts as the sheet,
///   which it is no thicker than, within 10 %: measure it.
/// Not measured: without panel, sheet, paint (0 if the part stays bare) or either
///   end of the range; what is known may fall short all the same.
/// Its mend takes a fastener of the table that fits here, where the body's hole is measured and there is one.
/// Source: common practice, no source.
Finding grip_finding(const Job& job, const Mount& mount, const Piece& piece, const PieceModel* model = nullptr);

}  // namespace sillwright::core
