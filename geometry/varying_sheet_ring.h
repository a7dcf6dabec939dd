#pragma once

#include <vector>

#include "geometry/loft.h"
#include "geometry/offset_law.h"
#include "geometry/result.h"
#include "geometry/ring_mesh.h"
#include "geometry/units.h"
#include "geometry/varying_parallel.h"

namespace sillwright::geometry {

/// The two faces of a sheet whose thickness changes by place, as distances to the left of its drawn line. Marks are
/// numbers of the loft's names. The left face lies left of the right one everywhere.
struct VaryingFaces {
    OffsetLaw left, right;
    RingFace left_is = RingFace::outside;  ///< The right face is the other one.
};

/// Fixed for a body, so that every row has the same points.
struct VaryingLayout {
    FaceLayout left, right;
};

/// Chords and parts enough that no face stands further than `sagitta` off them at the places looked at (each key place,
/// each row of the law, and seven between two key places); between these it may be a little more, which the outline
/// then reports. Straights are divided only where the law bends.
/// Errors: as varying_sheet_ring.
Result<VaryingLayout> layout_of_varying_sheet(const Loft& loft, const VaryingFaces& faces, Length sagitta);

/// Chords and parts enough for both.
void widen(VaryingLayout& layout, const VaryingLayout& other);

/// A sheet body from an open loft as sheet_ring, its thickness by place: faces as geometry/varying_parallel.h has them.
///
/// Shape: with laws that are the same everywhere it is the body of sheet_ring. Rows of the laws are key places. Each
///   chord of a straight is a strip of its own, of the same two nodes.
/// Errors: invalid_argument if the loft is closed or the least of the left law is not above the most of the right one;
///   does_not_fit as sheet_ring, for the greatest and the least distance of each face.
Result<RingBody> varying_sheet_ring(const Loft& loft, const VaryingFaces& faces, const VaryingLayout& layout);

}  // namespace sillwright::geometry
