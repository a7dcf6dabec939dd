#pragma once

#include <vector>

#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// The parallel of a profile, and what did not survive.
struct Parallel {
    std::vector<Profile> chains;        ///< In the order of the source; none if all vanished.
    std::vector<std::size_t> vanished;  ///< Nodes whose rounding is gone, rising.
    bool crossings_removed = false;     ///< Some of the raw parallel crossed itself and was cut off.
};

/// All points at exactly `distance` to the left (positive) or right (negative)
/// of the profile and nowhere nearer to it: lines shifted, arcs with a larger
/// or smaller radius, sharp outer corners rounded about the corner, pieces
/// beyond self-crossings removed. For an open chain the ends are square: the
/// half circles about its two ends are not part of the result.
///
/// Shape: each piece runs the way of its source and keeps its source's node. A
///   closed source that does not cross itself gives closed chains only. An open
///   one gives open chains, which end square at the source's ends, or where they
///   meet the half circle about an end or the parallel on the other side.
///   Distance zero gives the source. Trimming a sharp inner corner counts as
///   removing a crossing.
/// Accuracy: exact up to rounding for coordinates within 10 m; pieces shorter
///   than 1e-9 mm and chains shorter than 1e-4 mm are dropped, joints meet
///   within 1e-6 mm, and no point is nearer to the source than
///   |distance| - 1e-7 mm.
/// Errors: invalid_argument for an empty profile, one whose segments are not
///   finite, are of no length or do not meet, or a distance that is not finite,
///   beyond 1 km, or below 1e-4 mm but not zero; kernel_failure if a surviving
///   piece finds no neighbour (a closed source's parallel must close).
Result<Parallel> parallel(const Profile& profile, Length distance);

}  // namespace sillwright::geometry
