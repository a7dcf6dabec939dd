#pragma once

#include <optional>
#include <string>

#include "core/job.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A place along the car as a person typed it: a station's name, or a length from the job's origin
/// ("700", "27 1/2\"", "2 ft 3 in"); a bare number that is a station's name is that station. What
/// place_words() says is read back: "3.9 · 700 mm" is 700 mm.
/// Errors: invalid_argument, in words that name what would be right.
geometry::Result<geometry::Length> typed_place(const Job& job, const std::string& typed);

/// The nearest station ahead of a place, or behind it; none at the ends. Stations within half a
/// millimetre are the place itself.
std::optional<geometry::Length> station_ahead(const Job& job, geometry::Length along);
std::optional<geometry::Length> station_behind(const Job& job, geometry::Length along);

}  // namespace sillwright::core
