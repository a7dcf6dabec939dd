#pragma once

#include <string>
#include <vector>

namespace sillwright::core {

/// What whoever works from the program's numbers must be told, a sentence or two each.
/// Source: common practice, no source.
const std::vector<std::string>& cautions();

}  // namespace sillwright::core
