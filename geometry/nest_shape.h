#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <vector>

#include "geometry/result.h"
#include "geometry/units.h"

/// Outlines as nesting works with them: grown, with fewer corners, and the places at which two of them are in each
/// other's way.
namespace sillwright::geometry {

/// Corners of a polygon, anticlockwise unless it is said otherwise; the first one is not repeated.
using Polygon = std::vector<Eigen::Vector2d>;

/// How an outline is made ready.
struct GrownBy {
    Length all_round;        ///< No point of the outline is nearer to the ring than this.
    Length pockets{};        ///< What a disc of this radius cannot enter is filled up; holes are filled up anyhow.
    Length fewer_corners{};  ///< By which the ring may stand further off at outer corners, to do with fewer of them.
    Length fewer_dents{};    ///< By which a chord may bridge inner corners.
};

/// The outline grown all round, never less than was asked for.
///
/// Units and frame: millimetres, the outline's own.
/// Shape: one ring without holes, anticlockwise.
/// Accuracy: where it is not simplified or filled up it stands further off by 0.02 mm at most.
/// Errors: invalid_argument for an outline of fewer than 3 corners, of no area, that crosses itself, or that is not
///   finite or beyond 100 m.
/// Source: offset by Clipper 6 (A. Johnson), after B. R. Vatti, Commun. ACM 35 (1992) 56; fewer corners: own.
Result<Polygon> grown_ring(const Polygon& outline_mm, const GrownBy& by);

/// Turned anticlockwise by quarters, without rounding.
Eigen::Vector2d quarter_turned(const Eigen::Vector2d& p, int quarters);
Polygon quarter_turned(Polygon ring, int quarters);

/// Where the turned `moving` may not be put: the borders of the set of moves at which it overlaps `fixed`.
///
/// Shape: outer borders and holes together, in any order; a move is in the set if it is inside an odd number of them.
///   Moves at which the two only touch are on the border. Hollows of both are made use of, enclosed ones too.
/// Accuracy: 3e-4 mm, each coordinate.
/// Preconditions: both rings are simple and anticlockwise.
/// Source: the set is the Minkowski sum of `fixed` and the mirrored `moving`, and that is where the convolution of
///   their borders winds: L. Guibas, L. Ramshaw, J. Stolfi, FOCS 1983, 100 (from memory).
std::vector<Polygon> no_fit_rings(const Polygon& fixed, const Polygon& moving, int moving_quarters);

/// Area of what is within `distance` of the outline's inside, pockets included, no more than it is:
/// the outline's chords may stand off the true edge by `chord`.
double least_grown_area_mm2(const Polygon& outline_mm, Length distance, Length chord);

}  // namespace sillwright::geometry
