#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "core/job.h"
#include "geometry/result.h"
#include "geometry/units.h"

/// Values of a job as the text of one cell of a table, and back.
///
/// Text is taken as a person writes it: spaces at its ends do not count, and empty text
///   is "not measured".
/// Errors of all: invalid_argument, what is wrong with the text and what would be right.
namespace sillwright::core {

std::string length_cell(const std::optional<Entry>& value, BareUnit unit);
geometry::Status write_cell_text(const std::string& text, BareUnit unit, std::optional<Entry>& value);
/// Errors: also for empty text.
geometry::Status write_cell_text(const std::string& text, BareUnit unit, Entry& value);

/// Degrees: "68", "68.5°", "68,5 deg".
std::string angle_cell(const std::optional<geometry::Angle>& value);
geometry::Status write_cell_text(const std::string& text, std::optional<geometry::Angle>& value);

/// "0.5", "0.000025": with as few digits as read back as the same number, and no power of ten.
std::string number_cell(double value);
/// Empty text is the usual value.
geometry::Status write_cell_number(const std::string& text, double usual, double& value);

/// A share in per cent: 0.006 is "0.6 %".
std::string percent_cell(std::optional<double> share);
/// "0.6 %", "0,6%", and "0.6", which is per cent too.
geometry::Status write_cell_percent(const std::string& text, std::optional<double>& share);

/// "0 0.02 -1": along, out, up.
std::string direction_cell(const Direction& value);
geometry::Status write_cell_direction(const std::string& text, Direction& value);

/// A name. Errors: for empty text.
geometry::Status write_cell_name(const std::string& text, std::string& value);

/// Without the spaces at its ends.
std::string trimmed(const std::string& text);
/// For a word that is none of `words`.
geometry::Error no_such_word(const std::string& text, const std::string& words);
/// Small letters for capital ones, A to Z.
std::string in_small_letters(const std::string& text);

/// One of a list of words. Errors: also for empty text.
template <class Choice, class List>
geometry::Status write_cell_word(const std::string& text, const List& words, Choice& value) {
    const std::string wanted = in_small_letters(trimmed(text));
    std::string all;
    for (const auto& [word, choice] : words) {
        if (wanted == word) {
            value = choice;
            return std::monostate{};
        }
        all += (all.empty() ? "" : ", ") + std::string(word);
    }
    return no_such_word(text, all);
}

template <class Choice, class List>
std::string word_cell(const List& words, Choice value) {
    for (const auto& [word, choice] : words) {
        if (choice == value) {
            return std::string(word);
        }
    }
    return {};
}

}  // namespace sillwright::core
