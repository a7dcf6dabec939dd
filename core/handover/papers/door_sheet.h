#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// Of each door: its axis and how sure it is, sag, travel past shut, opening; its gaps by case, with the worst angle
/// and place; the gap by opening as a figure. None without a door.
std::optional<Document> door_sheet(const Evaluation& evaluation);

}  // namespace sillwright::core
