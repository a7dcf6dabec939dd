#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// Flutes and recesses for who routes them into the plug: widths, depths, run-outs, fence, order, what fouls. None for
/// a part without any.
std::optional<Document> flute_sheet(const Evaluation& evaluation);

}  // namespace sillwright::core
