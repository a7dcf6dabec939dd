#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "geometry/result.h"

namespace sillwright::core::job_file {

using Json = nlohmann::ordered_json;

/// Parsed text. Keys keep their order.
/// Errors: unreadable_file for text that is empty, not UTF-8, not JSON, cut
///   short, beyond the bounds of bounds.h, or with a key twice in one object.
///   The message begins with `file` and the line.
geometry::Result<Json> parse_json(const std::string& text, const std::string& file);

}  // namespace sillwright::core::job_file
