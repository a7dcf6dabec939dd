#pragma once

#include <optional>

#include "core/edit/edit.h"
#include "core/survey/compare.h"

namespace sillwright::core {

/// The part of this job made for the car's other side: the other side's own job with this design in the mirror.
///
/// Along, out and up know no hand, so the mirrored design has the same numbers. What is taken over is what was decided:
///   the skirt (pieces, sections, flutes, recesses, material, paint), limits, loads, what is asked of the road,
///   temperatures and gaps of the fitting, how the part is formed (mould, machines, router, generations). What was
///   measured there stays: book, frame, stations, body, doors, mounts with their holes, keep-outs, how the car stands,
///   ticks on generations of the same name, the prototype as sculpted. Locator and guide are taken over where the other
///   side has a mount of that name for the flange, else its own stay.
/// Stations: sections go to the other job's station at the same place; where it has none it gets one, at which only the
///   skirt is drawn. Ids of nodes stay unless something of the other side has them.
/// `comparison`: of this side (the first) with the other, as survey_results gives it (`other_hand`).
/// Errors: does_not_fit, with place and cure: the sides differ somewhere (the worst point is named), the two jobs do
///   not count from the same origin, a station stands beside one of the design, a piece is a file, units differ;
///   invalid_argument: the sides have not been compared, both jobs are of the same side, a door that carries a piece is
///   not there, and as checked_edit.
geometry::Result<Edit> other_hand_part(const Job& job, const Job& other,
                                       const std::optional<survey::Comparison>& comparison);

}  // namespace sillwright::core
