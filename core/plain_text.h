#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

/// Text in columns, for a terminal or a text file.
namespace sillwright::core {

/// Columns that `text` takes: its code points. (Marks that stand over a letter
/// and letters that are two columns wide are counted as one column each.)
std::size_t columns(std::string_view text);

/// `text` with every control character, line ends among them, as a space: what
/// stands in a file must not command the terminal.
std::string without_controls(std::string_view text);

/// The same in ASCII: "−" as "-", "·" as "|", "°" as " deg" and so on; a letter
/// that has no like is "?".
std::string in_ascii(std::string_view text);

/// The text in lines of `width` columns or less, broken at spaces, but not
/// before "mm"; a word that is longer than a line is cut. No text gives one empty line.
/// Precondition: width >= 1.
std::vector<std::string> wrapped(std::string_view text, std::size_t width);

}  // namespace sillwright::core
