#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// Of each piece: the flange as a figure; each hole with its place, size and what goes through it; distances to edge
/// and bend; the bend's numbers. None where no mount lands on a drawn flange.
std::optional<Document> hole_sheet(const Evaluation& evaluation);

}  // namespace sillwright::core
