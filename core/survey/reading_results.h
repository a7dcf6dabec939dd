#pragma once

#include <vector>

#include "core/survey/equations.h"
#include "core/survey/solution.h"
#include "geometry/least_squares.h"

namespace sillwright::core::survey {

/// Below this a residual tells nothing: a blunder would have to be above 4000 sds to be found, and rounding is near.
constexpr double k_least_redundancy = 1e-6;

/// A blunder of k_detectable sds of a fully checked reading is found with a power of 80 % by a test with a false alarm
/// in 1000: the square root of the non-centrality 17.07.
/// Source: W. Baarda, 1968 (from memory).
constexpr double k_detectable = 4.13;

/// What became of each reading of the book. Those that are used have their numbers from `adjusted`; dropped ones show
/// what they would have been: their w is against the variance of the prediction, the reading's own included.
std::vector<ReadingResult> reading_results(const Book& book, const Equations& equations,
                                           const geometry::LeastSquares* adjusted);

}  // namespace sillwright::core::survey
