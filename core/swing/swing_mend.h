#pragma once

#include <filesystem>
#include <optional>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::core {

/// The move of the skirt's named nodes that brings a swing finding's margin to zero.
///
/// Method: the nodes of the strip that is nearest to the door, at the stations
///   before and behind, move away from it by what is lacking; this is repeated where
///   the worst place has moved on to, and in the end all moves are scaled together.
///   Every step computes the piece and the swing anew, the last one at full accuracy.
/// Accuracy: `proven_margin` is between 0 and k_mend_overshoot_mm if moves are given.
/// `body`, if not null, is the car's own surface, as for swing_answer.
/// No moves: where the fixed body is from a file or is the car itself, or where no
///   such move was found; then the words say what is lacking.
/// Errors: stopped.
geometry::Result<std::optional<Mend>> swing_mend(const Job& job, const CarModel& car, const BodyModel* body,
                                                 const Finding& finding, const std::filesystem::path& folder,
                                                 const geometry::Watch& watch = {});

/// How much more than nothing may be left when a mend is made.
constexpr double k_mend_overshoot_mm = 0.02;

/// The job with a mend's moves made.
Job mended(const Job& job, const std::vector<NodeMove>& moves);

}  // namespace sillwright::core
