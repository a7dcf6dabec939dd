#pragma once

#include <optional>

#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/fastener_table.h"

namespace sillwright::core {

struct PieceModel;

/// What can be wrong with a mount's fastener that another would mend.
enum class FastenerCheck { grip, hole_fit, free_depth };

/// A row of the table that goes into the body's hole, grips the stack and has room behind the panel: of the same kind
/// and as thick as the present one where there is one, else the first of the table. None without the hole's size.
/// `model`: as stack.h.
const FastenerRow* fitting_row(const Job& job, const Mount& mount, const Piece& piece,
                               const PieceModel* model = nullptr);

/// That row taken, with the margin of `check` then. No value if no row fits. Precondition: the mount is one of the job.
std::optional<Mend> fastener_mend(const Job& job, const Mount& mount, const Piece& piece, FastenerCheck check,
                                  const PieceModel* model = nullptr);

}  // namespace sillwright::core
