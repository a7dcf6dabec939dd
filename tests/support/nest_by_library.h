#pragma once

#include <string>
#include <vector>

#include "geometry/nest.h"

namespace sillwright::tests {

/// What libnest2d alone makes of a question: all parts on as many of its first board as are needed.
struct LibraryNest {
    std::string settings;
    std::size_t sheets = 0;
    double used_mm2 = 0.0;      ///< Boxes of all sheets.
    double emptiest_mm2 = 0.0;  ///< The smallest of them.
    double seconds = 0.0;       ///< Processor time.
    bool sound = false;         ///< Keeps gap and margin, and leaves nothing out.
};

/// Of each of its settings: rotations, where it starts; with `all` its accuracy and its selection by pairs too, which
/// is slow. It gets the outlines themselves, grown by half the gap.
std::vector<LibraryNest> by_library(const geometry::NestQuestion& question, bool all);

/// Fewest sheets, then the smallest emptiest box; of those that are sound.
LibraryNest best_by_library(const geometry::NestQuestion& question, bool all);

}  // namespace sillwright::tests
