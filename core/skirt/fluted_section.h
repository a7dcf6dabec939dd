#pragma once

#include <vector>

#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Names of the nodes between which the shelf runs.
inline constexpr const char* k_shelf_inner = "shelf inner";
inline constexpr const char* k_shelf_edge = "shelf edge";

/// Whether a flute is there at a place along the car; its run-outs belong to it.
bool runs_at(const Flute& flute, geometry::Length along);

/// The section of a piece at a place along the car with its flutes: the nodes of the drawn line, and four for each
/// flute between shelf inner and shelf edge.
///
/// Shape: width and depth are those of the drawn line. Its walls stand square to the shelf; where the bottom's radius
///   is greater than the depth they are part of the two roundings, which end at the mouth: width 2 sqrt(d (2 r - d))
///   is a single arc. A flute runs at its full depth from run-out to run-out; its round ends are not in it.
/// Errors: does_not_fit, with the place, the flute and the number that would fit, for a flute that reaches into the
///   rounding at either end of the shelf or into its neighbour, whose bottom's radius is too large for it, whose
///   run-outs are in the wrong order, that the sheet closes, or for which there is no shelf of two neighbouring nodes.
geometry::Result<std::vector<geometry::ProfileNode>> fluted_nodes(const Piece& piece, const geometry::Loft& line,
                                                                  geometry::Length along);

}  // namespace sillwright::core
