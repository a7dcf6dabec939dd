#pragma once

#include <optional>
#include <string>

#include "core/entry.h"
#include "geometry/units.h"

namespace sillwright::core {

enum class PaperSize { a4, letter, a3 };

/// What the papers of the handover need to know besides the job: plain values of it. Usual values are common practice,
/// no source.
struct Papers {
    PaperSize templates = PaperSize::a4;           ///< What 1:1 templates are tiled on; all else is on A4 or Letter.
    PaperSize pages = PaperSize::a4;               ///< A4 or Letter.
    std::string call;                              ///< Whom the installer calls.
    Entry foam{geometry::millimetres(40.0), ""};   ///< Round the part in its box.
    Entry carton{geometry::millimetres(7.0), ""};  ///< Wall of the box.
    std::optional<Entry> longest;                  ///< Box that the carrier takes.
    std::optional<Entry> girth_most;               ///< Length and girth together that the carrier takes.
    Unknown unknown{};

    friend bool operator==(const Papers&, const Papers&) = default;
};

}  // namespace sillwright::core
