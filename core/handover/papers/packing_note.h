#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// Each piece's box, foam, way of lying, mass, and what goes in, counted. None without a piece that has a body.
std::optional<Document> packing_note(const Evaluation& evaluation);

/// How a part is turned in its box, in words for either hand: "about its length by 12°, clockwise as seen from the
/// front end".
std::string turn_words(Side side, geometry::Angle turned);

}  // namespace sillwright::core
