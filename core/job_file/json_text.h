#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "geometry/result.h"

/// JSON as text: what may be read, on which line a value stands, and how it is
/// laid out for a person. Nothing here knows a job.
namespace sillwright::core::job_file {

using Json = nlohmann::ordered_json;

/// What a file may ask of us: bounds on memory, stack and time, each far above
/// any job.
constexpr std::size_t k_most_bytes = 64U * 1024U * 1024U;
constexpr std::size_t k_most_depth = 64;
constexpr std::size_t k_most_values = 1'000'000;
constexpr std::size_t k_most_members = 1'000;  ///< Of one object: looked up one by one.

/// Parsed text. Keys keep their order.
/// Errors: unreadable_file for text that is empty, not UTF-8, not JSON, cut
///   short, too deep, too large, or has a key twice in one object. The message
///   begins with `file` and the line.
geometry::Result<Json> parse_json(const std::string& text, const std::string& file);

/// The line (from 1) on which the value at `pointer` (RFC 6901) begins; nothing
/// if there is no such value. A missing member is looked for at its parent.
/// Precondition: parse_json took `text`.
std::optional<std::size_t> line_of(std::string_view text, const std::string& pointer);

/// One more step of a pointer, escaped as RFC 6901 says.
std::string pointer_to(const std::string& parent, std::string_view key);

/// Laid out for a person: two spaces a level; what fits on a line and holds no
/// objects stands on one line. Ends with a line feed.
std::string layout(const Json& value);

/// `what`, cut to a length that a message can carry.
std::string in_quotes(std::string_view what);

}  // namespace sillwright::core::job_file
