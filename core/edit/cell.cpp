#include "core/edit/cell.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <vector>

#include "core/job_file/reader.h"
#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Status;

namespace {

/// Longer than the longest double in digits.
constexpr std::size_t k_room = 400;

Error bad(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

/// A number with a point or one comma; none for anything else.
std::optional<double> plain_number(std::string text) {
    std::replace(text.begin(), text.end(), ',', '.');
    for (const std::string_view minus : {"\u2212", "\u2013"}) {
        if (text.starts_with(minus)) {
            text.replace(0, minus.size(), "-");
        }
    }
    double number = 0.0;
    if (text.starts_with("+-")) {
        return std::nullopt;
    }
    const char* const first = text.data() + (text.starts_with("+") ? 1 : 0);
    const char* const last = text.data() + text.size();
    const auto [end, error] = std::from_chars(first, last, number, std::chars_format::fixed);
    return error == std::errc() && end == last && std::isfinite(number) ? std::optional(number) : std::nullopt;
}

/// The number whose digits are the same with the point moved to the right: so 0.7 % is 0.007 and no other.
double with_point_moved(double number, int places) {
    std::array<char, k_room> digits{};
    const auto written =
        std::to_chars(digits.data(), digits.data() + digits.size(), number, std::chars_format::scientific);
    std::string text(digits.data(), written.ptr);
    const auto power = text.find('e') + 1;
    text = text.substr(0, power) + std::to_string(std::stoi(text.substr(power)) + places);
    double moved = 0.0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), moved, std::chars_format::scientific);
    return read.ec == std::errc() ? moved : number * std::pow(10.0, places);
}

std::string without_ending(std::string text, std::string_view ending) {
    if (text.ends_with(ending)) {
        text.resize(text.size() - ending.size());
    }
    return trimmed(text);
}

/// Its words: parted by spaces or slashes; a comma at the end of one goes.
std::vector<std::string> parts_of(const std::string& text) {
    std::vector<std::string> parts(1);
    for (const char c : text) {
        if (c != ' ' && c != '\t' && c != '/') {
            parts.back() += c;
        } else if (!parts.back().empty()) {
            parts.emplace_back();
        }
    }
    if (parts.back().empty()) {
        parts.pop_back();
    }
    for (std::string& part : parts) {
        part = without_ending(part, ",");
    }
    return parts;
}

}  // namespace

std::string trimmed(const std::string& text) {
    constexpr std::string_view blanks = " \t\r\n";
    std::string_view rest = text;
    const std::string_view no_break_space = "\u00a0";
    for (bool more = true; more;) {
        more = false;
        while (!rest.empty() && blanks.find(rest.front()) != std::string_view::npos) {
            rest.remove_prefix(1);
        }
        while (!rest.empty() && blanks.find(rest.back()) != std::string_view::npos) {
            rest.remove_suffix(1);
        }
        if (rest.starts_with(no_break_space)) {
            rest.remove_prefix(no_break_space.size());
            more = true;
        }
        if (rest.ends_with(no_break_space)) {
            rest.remove_suffix(no_break_space.size());
            more = true;
        }
    }
    return std::string(rest);
}

std::string in_small_letters(const std::string& text) {
    std::string small = text;
    std::transform(small.begin(), small.end(), small.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return small;
}

Error no_such_word(const std::string& text, const std::string& words) {
    return bad("\"" + text + "\" cannot stand here. Write one of: " + words + ".");
}

std::string length_cell(const std::optional<Entry>& value, BareUnit unit) {
    return value ? entry_text(*value, unit) : std::string();
}

Status write_cell_text(const std::string& text, BareUnit unit, std::optional<Entry>& value) {
    const std::string typed = trimmed(text);
    if (typed.empty()) {
        value.reset();
        return std::monostate{};
    }
    const auto read = typed_entry(typed, unit);
    if (!read) {
        return bad("\"" + typed + "\" is not a length. " + read.error().message);
    }
    value = read.value();
    return std::monostate{};
}

Status write_cell_text(const std::string& text, BareUnit unit, Entry& value) {
    std::optional<Entry> read;
    if (auto status = write_cell_text(text, unit, read); !status) {
        return status;
    }
    if (!read) {
        return bad("this cannot be left empty. Write a length, such as 38 or 1 1/2\".");
    }
    value = *read;
    return std::monostate{};
}

std::string angle_cell(const std::optional<geometry::Angle>& value) {
    if (!value) {
        return {};
    }
    return number_text(
        shortest_number(geometry::in_deg(*value), [&](double deg) { return geometry::degrees(deg) == *value; }));
}

Status write_cell_text(const std::string& text, std::optional<geometry::Angle>& value) {
    std::string typed = in_small_letters(trimmed(text));
    if (typed.empty()) {
        value.reset();
        return std::monostate{};
    }
    for (const std::string_view ending : {"°", "degrees", "deg"}) {
        typed = without_ending(typed, ending);
    }
    const auto number = plain_number(typed);
    if (!number) {
        return bad("\"" + trimmed(text) + "\" is not an angle. Write degrees, such as 68 or 68.5.");
    }
    value = geometry::degrees(*number);
    return std::monostate{};
}

std::string number_cell(double value) {
    std::array<char, k_room> text{};
    const auto end =
        std::to_chars(text.data(), text.data() + text.size(), value == 0.0 ? 0.0 : value, std::chars_format::fixed);
    return {text.data(), end.ptr};
}

Status write_cell_number(const std::string& text, double usual, double& value) {
    const std::string typed = trimmed(text);
    const auto number = typed.empty() ? std::optional(usual) : plain_number(typed);
    if (!number) {
        return bad("\"" + typed + "\" is not a number. Write one such as 0.5.");
    }
    value = *number;
    return std::monostate{};
}

std::string percent_cell(std::optional<double> share) {
    return share ? number_cell(with_point_moved(*share, 2)) + " %" : std::string();
}

Status write_cell_percent(const std::string& text, std::optional<double>& share) {
    const std::string typed = trimmed(text);
    if (typed.empty()) {
        share.reset();
        return std::monostate{};
    }
    const auto number = plain_number(without_ending(typed, "%"));
    if (!number) {
        return bad("\"" + typed + "\" is not a number of per cent. Write one such as 0.6 %.");
    }
    share = with_point_moved(*number, -2);
    return std::monostate{};
}

std::string direction_cell(const Direction& value) {
    const Direction shown = job_file::hand_direction(value).value_or(value);
    return number_text(shown.x()) + " " + number_text(shown.y()) + " " + number_text(shown.z());
}

Status write_cell_direction(const std::string& text, Direction& value) {
    const std::vector<std::string> parts = parts_of(text);
    Direction typed = Direction::Zero();
    bool numbers = parts.size() == 3;
    for (std::size_t i = 0; numbers && i < parts.size(); ++i) {
        const auto number = plain_number(parts[i]);
        numbers = number.has_value();
        typed[static_cast<Eigen::Index>(i)] = number.value_or(0.0);
    }
    const auto unit = numbers ? job_file::unit_direction(typed) : std::nullopt;
    if (!unit) {
        return bad("\"" + trimmed(text) +
                   "\" is not a direction. Write three numbers for along, out and up with spaces between, such as "
                   "0 0 -1 for down.");
    }
    value = *unit;
    return std::monostate{};
}

Status write_cell_name(const std::string& text, std::string& value) {
    const std::string typed = trimmed(text);
    if (typed.empty()) {
        return bad("this cannot be left empty. Write a name.");
    }
    value = typed;
    return std::monostate{};
}

}  // namespace sillwright::core
