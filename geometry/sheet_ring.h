#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/corner.h"
#include "geometry/loft.h"
#include "geometry/ring_mesh.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// The two faces of a sheet as distances to the left of its drawn line (seen
/// along the order of its names); negative is to the right. `left` > `right`.
struct SheetFaces {
    Length left, right;
    RingFace left_is = RingFace::outside;  ///< The right face is the other one.
};

/// Into how many chords each node's rounding is divided, by name; 0 where the
/// node is never a corner. Fixed for a body, so that every row has the same points.
struct RingLayout {
    std::vector<std::size_t> left, right;
};

/// Chords enough that no rounding stands further than `sagitta` off them at the
/// places looked at (each key place and seven between two); between these it may
/// be a little more, which the outline then reports.
/// Errors: as sheet_ring.
Result<RingLayout> layout_of_sheet(const Loft& loft, const SheetFaces& faces, Length sagitta);

/// A sheet body from an open loft: the parallels of its line at both faces, joined
/// by an edge at either end.
///
/// Shape: the left face in the order of the names, then the right face backwards.
///   Outside a bend the rounding's radius grows by the distance (a sharp corner
///   becomes an arc about itself); inside it shrinks, and where it would be
///   negative the two parallel straights meet in a point. The ends are square.
/// Accuracy: the thickness is measured in the section plane. Where the surface
///   leans along the car by an angle a, the sheet measured square to itself is thinner
///   by 1 - cos(a): 0.06 % for a taper of 2 degrees, 0.4 % for 5.
/// Errors: invalid_argument if the loft is closed or the faces are not in order;
///   does_not_fit where a straight between two bends would vanish on a face, naming
///   the place, the two nodes and the distance or radius that would fit. That a face
///   meets a distant part of itself is found at the ends only.
Result<RingBody> sheet_ring(const Loft& loft, const SheetFaces& faces, const RingLayout& layout);

/// Chords for the outline of a solid, in `left`; as layout_of_sheet.
Result<RingLayout> layout_of_solid(const Loft& loft, Length sagitta);

/// A solid body whose outline is the closed section itself.
/// Errors: invalid_argument if the loft is open; else as sheet_ring.
Result<RingBody> solid_ring(const Loft& loft, const RingLayout& layout);

/// The parallel at `offset_mm` to the left of a chain with the given corners, as
/// points: chords[i] + 1 for every node i, coinciding where it has no rounding.
/// Appends to `points`; returns the sagitta of its arcs. The chain must have room
/// (check_room).
Length append_parallel(const std::vector<Corner>& corners, double offset_mm, const std::vector<std::size_t>& chords,
                       std::vector<Eigen::Vector2d>& points);

}  // namespace sillwright::geometry
