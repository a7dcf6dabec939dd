#pragma once

#include <cstdio>
#include <string>

#include "geometry/units.h"

namespace sillwright::geometry {

/// "12.34 mm": a length for a message, to a hundredth.
inline std::string text(Length length) {
    char buffer[64];
    std::snprintf(buffer, sizeof buffer, "%.2f mm", in_mm(length));
    return buffer;
}

}  // namespace sillwright::geometry
