#pragma once

#include <string>

#include "geometry/units.h"

/// Numbers in the words of findings; the findings' own numbers carry all digits.
/// None depends on the locale, none prints a negative zero.
namespace sillwright::core {

/// "3.20 mm"
std::string mm_text(geometry::Length length);
/// "2.50°"
std::string degree_text(geometry::Angle angle);
/// "0.42": the fewest digits that read back as the same number.
std::string number_text(double number);

}  // namespace sillwright::core
