#include "core/number_text.h"

#include <cstdio>

#include "geometry/length_text.h"

namespace sillwright::core {

namespace {

constexpr int k_decimals = 2;

}  // namespace

std::string mm_text(geometry::Length length) {
    return geometry::print_length(length, geometry::WrittenUnit::mm, k_decimals);
}

std::string degree_text(geometry::Angle angle) {
    char text[64];
    std::snprintf(text, sizeof text, "%.*f°", k_decimals, geometry::in_deg(angle));
    return text;
}

}  // namespace sillwright::core
