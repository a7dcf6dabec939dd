#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// What is masked, how thick the film may be, how hot it may be baked, where it hangs. None for a part that stays bare,
/// or one that is not drawn.
std::optional<Document> paint_note(const Evaluation& evaluation);

/// ABS sheet keeps its form in an oven of up to this: common practice, no source.
constexpr geometry::Temperature k_abs_bake_most = geometry::celsius(70.0);

}  // namespace sillwright::core
