#pragma once

#include <nlohmann/json.hpp>
#include <string>

namespace sillwright::core::job_file {

/// JSON laid out for a person: two spaces a level; what fits on a line and holds
/// no objects stands on one line; of a list of objects each has its own. Ends
/// with a line feed. Bytes that are not UTF-8 become U+FFFD.
std::string layout(const nlohmann::ordered_json& value);

}  // namespace sillwright::core::job_file
