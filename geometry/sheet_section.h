#pragma once

#include <span>
#include <vector>

#include "geometry/area_moments.h"
#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/sheet_ring.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// The region that a sheet fills in a section: between the two parallels of an open line, closed square at its ends.
///
/// Units and frame: millimetres, in the plane of the line. `faces` as for sheet_ring: distances to the line's left.
/// Shape: the outline first, anticlockwise, as lines and true arcs; then a hollow that the sheet closes round,
///   clockwise. A sharp corner is round outside and sharp inside; what lies beyond a crossing of a parallel with itself
///   is cut off, so that every place counts once.
/// Accuracy: that of parallel().
/// Errors: as parallel(); invalid_argument for a closed line or faces out of order; does_not_fit where the sheet
///   meets itself at an end of the line, or nothing of a face is left.
Result<std::vector<Profile>> sheet_outline(const Profile& line, const SheetFaces& faces);

/// Its moments. Accuracy: exact to rounding.
Result<AreaMoments> sheet_moments(const Profile& line, const SheetFaces& faces);

/// The faces of a sheet whose thickness changes, at a place along its line (arc length from the start).
struct FacesAt {
    Length along;
    SheetFaces faces;
};

/// The same for faces that are given at places along the line, rising: linear between them, and beyond the first and
/// the last as there. The outline is a polyline.
///
/// Accuracy: no point of the outline is further than `tolerance` from the face; straights are exact.
/// Errors: invalid_argument for no places, places that do not rise, faces out of order, numbers that are not finite, or
///   a tolerance below 1e-7 mm; does_not_fit where a straight between two bends vanishes on a face. That the
///   sheet meets a distant part of itself is not looked for.
Result<std::vector<Profile>> sheet_outline(const Profile& line, std::span<const FacesAt> faces, Length tolerance);
Result<AreaMoments> sheet_moments(const Profile& line, std::span<const FacesAt> faces, Length tolerance);

}  // namespace sillwright::geometry
