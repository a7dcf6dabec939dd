#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// For who forms the sheet: draw direction and draft, machine and sheet, thickness as formed. None without a piece that
/// is drawn to its end.
std::optional<Document> moulder_sheet(const Evaluation& evaluation);

}  // namespace sillwright::core
