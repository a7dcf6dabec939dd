#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

/// Places in JSON text: bytes, lines, pointers (RFC 6901).
namespace sillwright::core::job_file {

/// Both from 1; the column in bytes.
struct LineColumn {
    std::size_t line = 1, column = 1;
};
LineColumn place_of(std::string_view text, std::size_t byte);

/// The byte after the string whose opening quotation mark is at `open`.
std::size_t after_string(std::string_view text, std::size_t open);

/// The line (from 1) on which the value at `pointer` begins; nothing if there is
/// no such value. A missing member is looked for at its parent.
/// Precondition: `text` is JSON.
std::optional<std::size_t> line_of(std::string_view text, const std::string& pointer);

/// One more step of a pointer, escaped as RFC 6901 says.
std::string pointer_to(const std::string& parent, std::string_view key);

/// `what` in quotation marks, cut to a length that a message can carry.
std::string in_quotes(std::string_view what);

}  // namespace sillwright::core::job_file
