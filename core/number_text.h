#pragma once

#include <string>

#include "geometry/units.h"

namespace sillwright::core {

/// "3.20 mm", for words in findings; their numbers carry all digits.
std::string mm_text(geometry::Length length);
/// "2.50°"
std::string degree_text(geometry::Angle angle);

}  // namespace sillwright::core
