#pragma once

#include <cstdint>
#include <vector>

#include "geometry/nest.h"

namespace sillwright::tests {

/// Invented ribs about 600 x 180: a crown with rounded corners that falls to one side, hollow below, with three slots
/// open downward; each a little different. The same for the same seed on every machine.
std::vector<geometry::Polygon> example_ribs(std::size_t count, std::uint64_t seed);

/// Those ribs on whole sheets of 2440 x 1220, gap 8, margin 10.
geometry::NestQuestion rib_question(std::size_t count, std::uint64_t seed);

}  // namespace sillwright::tests
