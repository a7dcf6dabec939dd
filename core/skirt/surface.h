#pragma once

#include <optional>

#include "core/job.h"
#include "geometry/sheet_ring.h"
#include "geometry/units.h"

namespace sillwright::core {

/// The surfaces of a piece of the skirt. Every user says which one it means.
enum class Surface {
    drawn,            ///< The line that the maker drew.
    mould_face,       ///< Where the sheet lies on the male mould: its inside.
    inside,           ///< Towards the car.
    outside,          ///< Away from the car, unpainted.
    painted_outside,  ///< The outside with its film.
};

/// How far a surface lies to the left of the drawn line, which is outward, seen
/// along the order of its names. The sheet is the same everywhere.
///
/// Not measured: no value where the surface needs a sheet thickness or a film that
///   is not given. The drawn surface is always known.
std::optional<geometry::Length> outward_offset(const Piece& piece, const std::optional<Entry>& paint, Surface surface);

/// Outside and inside of the sheet as distances from the drawn line; no value
/// without a thickness.
std::optional<geometry::SheetFaces> sheet_faces(const Piece& piece);

}  // namespace sillwright::core
