#pragma once

#include "core/edit/edit.h"
#include "core/finding.h"

namespace sillwright::core {

/// A finding's mend taken: nodes moved, then fields written anew. Errors: invalid_argument where it has neither; as
/// with_changes and checked_drawing.
geometry::Result<Edit> take_mend(const Job& job, const Finding& finding);

}  // namespace sillwright::core
