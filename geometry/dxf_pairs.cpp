#include "geometry/dxf_pairs.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>

namespace sillwright::geometry {

namespace {

/// A double without exponent has at most 309 digits before the point or, at
/// the small end, 767 after it.
constexpr std::size_t k_number_characters = 1100;

constexpr double k_full_turn = 2.0 * std::numbers::pi;

std::string number_text(double number) {
    std::array<char, k_number_characters> buffer{};
    const double plain = number + 0.0;  // minus zero becomes zero
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), plain, std::chars_format::fixed).ptr;
    std::string text{buffer.data(), end};
    return text.find('.') == std::string::npos ? text + ".0" : text;
}

std::string hexadecimal(std::uint32_t number) {
    std::array<char, 8> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number, 16).ptr;
    std::string text{buffer.data(), end};
    std::transform(text.begin(), text.end(), text.begin(),
                   [](char c) { return c >= 'a' ? static_cast<char>(c - 'a' + 'A') : c; });
    return text;
}

constexpr std::uint32_t k_replacement = 0xFFFD;

/// Takes one character off the front of UTF-8 text; k_replacement, and one byte
/// gone, for what is none.
std::uint32_t take_character(std::string_view& text) {
    const auto byte = [&text](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(0);
    const std::size_t length = lead < 0x80 ? 1 : lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    constexpr std::array<std::uint32_t, 5> k_least{0, 0, 0x80, 0x800, 0x10000};
    std::uint32_t code = length == 1 ? lead : lead & (0x7FU >> length);
    bool good = length == 1 || (lead >= 0xC0 && lead < 0xF8 && text.size() >= length);
    for (std::size_t i = 1; good && i < length; ++i) {
        good = (byte(i) & 0xC0U) == 0x80U;
        code = (code << 6U) | (byte(i) & 0x3FU);
    }
    const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
    if (!good || code < k_least[length] || surrogate) {
        text.remove_prefix(1);
        return k_replacement;
    }
    text.remove_prefix(length);
    return code <= 0xFFFF ? code : k_replacement;
}

/// What readers would take for the start of a command: a backslash before U or M, a caret, a doubled per cent sign.
bool begins_command(std::uint32_t c, std::string_view after) {
    const char next = after.empty() ? ' ' : after.front();
    return (c == '\\' && (next == 'U' || next == 'M')) || c == '^' || (c == '%' && next == '%');
}

}  // namespace

void DxfPairs::text(int code, std::string_view value) {
    out_ += std::to_string(code) + '\n';
    out_ += value;
    out_ += '\n';
}

void DxfPairs::number(int code, double value) {
    text(code, number_text(value));
}

void DxfPairs::handle(int code, std::uint32_t value) {
    text(code, hexadecimal(value));
}

void DxfPairs::flat_point(int code, const Eigen::Vector2d& p) {
    number(code, p.x());
    number(code + 10, p.y());
}

void DxfPairs::point(int code, const Eigen::Vector2d& p) {
    flat_point(code, p);
    number(code + 20, 0.0);
}

void DxfPairs::begin_section(std::string_view name) {
    text(0, "SECTION");
    text(2, name);
}

std::string dxf_words(std::string_view utf8) {
    std::string text;
    while (!utf8.empty()) {
        const std::uint32_t c = take_character(utf8);
        if (c < ' ' || (c >= 0x7F && c < 0xA0)) {
            text += ' ';
        } else if (c > '~' || begins_command(c, utf8)) {
            const std::string digits = hexadecimal(c);
            text += "\\U+" + std::string(4 - digits.size(), '0') + digits;
        } else {
            text += static_cast<char>(c);
        }
    }
    return text;
}

double degrees_from_0(double radians_any) {
    const double turn = std::fmod(radians_any, k_full_turn);
    return (turn < 0.0 ? turn + k_full_turn : turn) * 180.0 / std::numbers::pi;
}

}  // namespace sillwright::geometry
