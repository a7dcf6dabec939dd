#include "core/number_text.h"

#include <array>
#include <charconv>

#include "geometry/text.h"

namespace sillwright::core {

namespace {

constexpr int k_degree_decimals = 2;
/// Longer than the longest double in digits.
constexpr std::size_t k_room = 400;

}  // namespace

std::string mm_text(geometry::Length length) {
    return geometry::text(length);
}

std::string degree_text(geometry::Angle angle) {
    std::array<char, k_room> text{};
    const auto end =
        std::to_chars(text.begin(), text.end(), geometry::in_deg(angle), std::chars_format::fixed, k_degree_decimals);
    std::string words(text.begin(), end.ptr);
    if (words == "-0.00") {
        words = "0.00";
    }
    return words + "°";
}

std::string number_text(double number) {
    std::array<char, k_room> text{};
    const auto end = std::to_chars(text.begin(), text.end(), number == 0.0 ? 0.0 : number);
    return {text.begin(), end.ptr};
}

}  // namespace sillwright::core
