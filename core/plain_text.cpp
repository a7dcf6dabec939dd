#include "core/plain_text.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <utility>

namespace sillwright::core {

namespace {

/// Second and later bytes of a letter in UTF-8 (RFC 3629, section 3).
bool continues_letter(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

/// Byte length of the letter that starts at `text[0]`.
std::size_t letter_length(std::string_view text) {
    std::size_t length = 1;
    while (length < text.size() && continues_letter(text[length])) {
        ++length;
    }
    return length;
}

constexpr std::array<std::pair<std::string_view, std::string_view>, 21> k_likes{{
    {"·", "|"},   {"−", "-"},  {"–", "-"},  {"—", "-"},  {"°", " deg"}, {"±", "+/-"},   {"×", "x"},
    {"Ø", "dia"}, {"≥", ">="}, {"≤", "<="}, {"²", "^2"}, {"³", "^3"},   {"√", "sqrt"},  {"σ", "sd"},
    {"…", "..."}, {"’", "'"},  {"“", "\""}, {"”", "\""}, {"→", "->"},   {"θ", "theta"}, {"π", "pi"},
}};

std::string_view ascii_like(std::string_view letter) {
    const auto* const like =
        std::find_if(k_likes.begin(), k_likes.end(), [&](const auto& pair) { return pair.first == letter; });
    return like == k_likes.end() ? "?" : like->second;
}

/// Cuts the first `width` letters off `word`.
std::string cut_off(std::string_view& word, std::size_t width) {
    std::size_t bytes = 0;
    for (std::size_t i = 0; i < width && bytes < word.size(); ++i) {
        bytes += letter_length(word.substr(bytes));
    }
    std::string front(word.substr(0, bytes));
    word.remove_prefix(bytes);
    return front;
}

/// The front of `text` up to the next place where a line may end: a space, but
/// not between a number and its unit.
std::string_view word_at_front(std::string_view text) {
    std::size_t end = text.find(' ');
    while (end != std::string_view::npos && end > 0) {
        const std::string_view rest = text.substr(end + 1);
        const bool unit = rest.starts_with("mm") &&
                          (rest.size() == 2 || std::string_view(" ,.;)").find(rest[2]) != std::string_view::npos);
        if (!unit) {
            break;
        }
        end = text.find(' ', end + 1);
    }
    return text.substr(0, end);
}

}  // namespace

std::size_t columns(std::string_view text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return !continues_letter(c); }));
}

std::string without_controls(std::string_view text) {
    std::string clean;
    for (std::size_t i = 0; i < text.size();) {
        const std::string_view letter = text.substr(i, letter_length(text.substr(i)));
        const auto first = static_cast<unsigned char>(letter[0]);
        // C0 and DEL are one byte; C1 is C2 80 to C2 9F (ISO/IEC 6429).
        const bool c1 = letter.size() == 2 && first == 0xC2U && static_cast<unsigned char>(letter[1]) < 0xA0U;
        clean += first < 0x20U || first == 0x7FU || c1 ? std::string_view{" "} : letter;
        i += letter.size();
    }
    return clean;
}

std::string in_ascii(std::string_view text) {
    std::string ascii;
    for (std::size_t i = 0; i < text.size();) {
        const std::string_view letter = text.substr(i, letter_length(text.substr(i)));
        ascii += letter.size() == 1 && static_cast<unsigned char>(letter[0]) < 0x80U ? letter : ascii_like(letter);
        i += letter.size();
    }
    return ascii;
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
    assert(width >= 1);
    std::vector<std::string> lines(1);
    while (!text.empty()) {
        std::string_view word = word_at_front(text);
        text.remove_prefix(std::min(text.size(), word.size() + 1));
        if (word.empty()) {
            continue;
        }
        if (!lines.back().empty()) {
            if (columns(lines.back()) + 1 + columns(word) <= width) {
                lines.back() += " " + std::string(word);
                continue;
            }
            lines.emplace_back();
        }
        while (columns(word) > width) {
            lines.back() = cut_off(word, width);
            lines.emplace_back();
        }
        lines.back() = word;
    }
    return lines;
}

}  // namespace sillwright::core
