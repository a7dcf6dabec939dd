#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// Each station of each drawn piece: the section as a figure, two on a page, and its named points with radius, sheet
/// and draft; before them the strip and the named lines along the car. None without a drawn piece.
std::optional<Document> section_sheets(const Evaluation& evaluation);

}  // namespace sillwright::core
