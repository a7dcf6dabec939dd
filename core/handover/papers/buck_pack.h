#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"
#include "core/handover/documents.h"

namespace sillwright::core {

/// For who cuts and builds the buck: boards with their measured thickness, ribs and spines, order of assembly, checks,
/// bevels, bit, holes, sheets beside the bound, what to buy; pictures of the buck and of each sheet. None without a rib
/// or a part to cut.
std::optional<Document> buck_pack(const Evaluation& evaluation, const BuckWork& work);

}  // namespace sillwright::core
