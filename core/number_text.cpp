#include "core/number_text.h"

#include <array>
#include <charconv>

#include "geometry/length_text.h"

namespace sillwright::core {

namespace {

/// Longer than the longest double in digits.
constexpr std::size_t k_room = 400;

}  // namespace

std::string mm_text(geometry::Length length, int decimals) {
    return geometry::print_length(length, geometry::WrittenUnit::mm, decimals);
}

std::string degree_text(geometry::Angle angle, int decimals) {
    return fixed_text(geometry::in_deg(angle), decimals) + "°";
}

std::string fixed_text(double number, int decimals) {
    std::array<char, k_room> text{};
    const auto end = std::to_chars(text.begin(), text.end(), number, std::chars_format::fixed, decimals);
    const std::string words(text.begin(), end.ptr);
    const bool is_zero = words.find_first_not_of("-0.") == std::string::npos;
    return is_zero && words.front() == '-' ? words.substr(1) : words;
}

std::string number_text(double number) {
    std::array<char, k_room> text{};
    const auto end = std::to_chars(text.begin(), text.end(), number == 0.0 ? 0.0 : number);
    return {text.begin(), end.ptr};
}

}  // namespace sillwright::core
