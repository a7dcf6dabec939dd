#pragma once

#include <optional>
#include <string>

#include "core/survey/equations.h"
#include "core/survey/solution.h"
#include "geometry/least_squares.h"

namespace sillwright::core::survey {

/// Two residuals that move together more than this cannot be told apart: a blunder in one is taken for one in the other
/// about as often as not (from memory; common practice in networks is 0.85 to 0.95).
constexpr double k_together = 0.9;

/// The single worst number above k_blunder_w, of those of readings. Where a number that is no reading (a held
/// coordinate, a given lean) could be meant as well, it is not told apart.
std::optional<Suspect> find_suspect(const Equations& equations, const geometry::LeastSquares& adjusted,
                                    const std::vector<ReadingResult>& readings);

/// In one sentence, a coordinate that is held with an sd, or a given lean, that is more in conflict than any reading;
/// empty if there is none above k_blunder_w.
std::string conflict_beside_readings(const Equations& equations, const geometry::LeastSquares& adjusted);

}  // namespace sillwright::core::survey
