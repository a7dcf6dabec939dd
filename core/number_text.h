#pragma once

#include <string>

#include "geometry/units.h"

/// Numbers in the words of findings; the findings' own numbers carry all digits.
/// None depends on the locale, none prints a negative zero.
namespace sillwright::core {

/// "3.20 mm"
std::string mm_text(geometry::Length length, int decimals = 2);
/// "2.50°"
std::string degree_text(geometry::Angle angle, int decimals = 2);
/// "3.9": that many digits after the point.
std::string fixed_text(double number, int decimals);
/// "0.42": the fewest digits that read back as the same number.
std::string number_text(double number);

}  // namespace sillwright::core
