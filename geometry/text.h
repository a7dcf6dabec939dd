#pragma once

#include <string>

#include "geometry/length_text.h"

namespace sillwright::geometry {

/// "12.34 mm": a length for a message, to a hundredth.
inline std::string text(Length length) {
    return print_length(length, WrittenUnit::mm, 2);
}

}  // namespace sillwright::geometry
