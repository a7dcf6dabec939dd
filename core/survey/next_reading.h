#pragma once

#include <optional>

#include "core/survey/equations.h"
#include "core/survey/solution.h"

namespace sillwright::core::survey {

/// As far as one person and a tape reach, and as near as a tape can be held.
constexpr double k_longest_reading_mm = 3000.0;
constexpr double k_shortest_reading_mm = 30.0;

/// Of the readings that a person could take (ties and heights between placed points within reach, along, out and up
/// from marks; none between points that are held, none that is taken already) the one that most shortens the longest
/// half-axis of the worst mount's 95 % ellipsoid (of the worst point if no mount is placed), with the usual instrument.
/// None if there is no such point or nothing helps by a hundredth.
///
/// Accuracy: of the linearised readings: the covariance after one more reading follows from that before by a rank-one
///   update, no adjustment is made again.
/// Precondition: `solution` has points and its adjustment, which came from `equations`.
std::optional<NextReading> next_reading(const Book& book, const Equations& equations, const Solution& solution);

}  // namespace sillwright::core::survey
