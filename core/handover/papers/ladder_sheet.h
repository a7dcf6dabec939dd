#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// Each main dimension at every step of the mould chain, ticks to scribe with room for what is measured, and what the
/// chain shrinks by. None without a chain.
std::optional<Document> ladder_sheet(const Evaluation& evaluation);

}  // namespace sillwright::core
