#pragma once

#include "core/edit/edit.h"
#include "core/finding.h"

namespace sillwright::core {

/// A finding's mend taken. Errors: invalid_argument where it has no moves; as checked_drawing.
geometry::Result<Edit> take_mend(const Job& job, const Finding& finding);

}  // namespace sillwright::core
