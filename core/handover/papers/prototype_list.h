#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// What to verify on the prototype at each station, with its limit and room to write. None without a drawn piece.
///
/// Places: the middle of each straight of the section that is `k_straight_least` long, where a gauge finds the surface;
///   corners are rounded. They are those of the mould's face, which is the prototype's.
/// Limit: twice the standard deviation that is allowed for the formed surface, as gaps to the doors reckon with it.
std::optional<Document> prototype_list(const Evaluation& evaluation);

constexpr geometry::Length k_straight_least = geometry::millimetres(10.0);

}  // namespace sillwright::core
