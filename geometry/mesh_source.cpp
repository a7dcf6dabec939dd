#include "geometry/mesh_source.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>

namespace sillwright::geometry {

namespace {

/// Enough to recognise a word by in a message.
constexpr std::size_t k_shown_characters = 30;
/// Longer than the shortest form of any double or 64-bit integer.
constexpr std::size_t k_number_characters = 32;

bool is_space(char c) {
    return c == ' ' || (c >= '\t' && c <= '\r');
}

template <class Number>
void append_shortest(std::string& text, Number number) {
    std::array<char, k_number_characters> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number).ptr;
    text.append(buffer.data(), end);
}

/// from_chars takes no plus sign, which files may hold.
std::string_view without_plus(std::string_view word) {
    const bool plus = word.size() > 1 && word[0] == '+' && word[1] != '-';
    return plus ? word.substr(1) : word;
}

}  // namespace

double mm_per(FileUnit unit) {
    switch (unit) {
        case FileUnit::centimetre:
            return 10.0;
        case FileUnit::inch:
            return in_mm(inches(1.0));
        case FileUnit::millimetre:
            break;
    }
    return 1.0;
}

Error file_error(const MeshSource& source, const std::string& what) {
    return Error{ErrorCode::unreadable_file, "\"" + source.name + "\": " + what};
}

Error line_error(const MeshSource& source, std::size_t line, const std::string& what) {
    return Error{ErrorCode::unreadable_file, "\"" + source.name + "\", line " + std::to_string(line) + ": " + what};
}

Error byte_error(const MeshSource& source, std::size_t byte, const std::string& what) {
    return Error{ErrorCode::unreadable_file, "\"" + source.name + "\", byte " + std::to_string(byte) + ": " + what};
}

std::optional<std::string> point_fault(const Eigen::Vector3d& p_mm) {
    // Every comparison with NaN is false, so one test finds both faults.
    const auto within = [](double v) { return std::abs(v) <= k_max_coordinate_mm; };
    if (within(p_mm.x()) && within(p_mm.y()) && within(p_mm.z())) {
        return std::nullopt;
    }
    if (p_mm.array().isFinite().all()) {
        std::string words = "a point lies ";
        append_number(words, p_mm.cwiseAbs().maxCoeff());
        return words + " mm from the origin, beyond 10 km; check the unit of the file, or export it again.";
    }
    return "a coordinate is not a finite number; export the mesh again or mend it there.";
}

std::string too_many(const std::string& things) {
    return "there are more than " + std::to_string(k_max_mesh_elements) + " " + things + "; make the mesh coarser.";
}

std::string shown(std::string_view word) {
    std::string text = "\"";
    for (const char c : word.substr(0, k_shown_characters)) {
        text.push_back(c >= ' ' && c <= '~' ? c : '?');
    }
    return text + (word.size() > k_shown_characters ? "...\"" : "\"");
}

std::string_view take_word(std::string_view& text) {
    const auto begin = std::find_if_not(text.begin(), text.end(), is_space);
    const auto end = std::find_if(begin, text.end(), is_space);
    const std::string_view word{begin, end};
    text = std::string_view{end, text.end()};
    return word;
}

std::string_view take_line(std::string_view& text) {
    const std::size_t end = text.find('\n');
    std::string_view line = text.substr(0, end);
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    if (line.ends_with('\r')) {
        line.remove_suffix(1);
    }
    return line;
}

std::optional<double> number_in(std::string_view word) {
    word = without_plus(word);
    double number = 0.0;
    const auto [end, code] = std::from_chars(word.data(), word.data() + word.size(), number);
    if (end != word.data() + word.size() || word.empty() || code == std::errc::invalid_argument) {
        return std::nullopt;
    }
    if (code == std::errc::result_out_of_range) {
        // Too small counts as zero, too large as infinite.
        const bool tiny = word.find("e-") != std::string_view::npos || word.find("E-") != std::string_view::npos;
        return tiny ? 0.0 : std::numeric_limits<double>::infinity();
    }
    return number;
}

std::optional<std::int64_t> whole_number_in(std::string_view word) {
    word = without_plus(word);
    std::int64_t number = 0;
    const auto [end, code] = std::from_chars(word.data(), word.data() + word.size(), number);
    if (code != std::errc{} || end != word.data() + word.size()) {
        return std::nullopt;
    }
    return number;
}

void append_number(std::string& text, double number) {
    append_shortest(text, number);
}

void append_number(std::string& text, std::int64_t number) {
    append_shortest(text, number);
}

}  // namespace sillwright::geometry
