#pragma once

#include <optional>

#include "core/forming/formed_sheet.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/offset_law.h"
#include "geometry/sheet_ring.h"
#include "geometry/units.h"
#include "geometry/varying_sheet_ring.h"

namespace sillwright::core {

/// The surfaces of a piece of the skirt. Every user says which one it means.
enum class Surface {
    drawn,            ///< The line that the maker drew.
    mould_face,       ///< Where the sheet lies on its mould: its inside on a male one, its outside in a female one.
    inside,           ///< Towards the car.
    outside,          ///< Away from the car, unpainted.
    painted_outside,  ///< The outside with its film.
};

/// How far a surface lies to the left of the drawn line, which is outward, seen
/// along the order of its names. The sheet is the same everywhere.
///
/// Not measured: no value where the surface needs a sheet thickness or a film that
///   is not given. The drawn surface is always known.
std::optional<geometry::Length> outward_offset(const Piece& piece, const std::optional<Entry>& paint, Surface surface,
                                               MouldKind mould = MouldKind::male);

/// Outside and inside of the sheet as distances from the drawn line; no value
/// without a thickness.
std::optional<geometry::SheetFaces> sheet_faces(const Piece& piece);

/// The same by place: the sheet is `formed`'s part of its thickness there; with null it is the same everywhere. Its
/// tilt and rows need not be those of `line`, whose nodes may have moved since: marks stay with their strips.
///
/// The flange's own thickness, where the job has one, goes before the computed one from `flange root` to the end of the
///   line, but only where a formed sheet is given; over the last `k_flange_blend` of the way to the root the two are
///   joined by a straight, so that the surface has no step: common practice, no source.
std::optional<geometry::OffsetLaw> outward_law(const Piece& piece, const geometry::Loft& line,
                                               const FormedSheet* formed, const std::optional<Entry>& paint,
                                               Surface surface, MouldKind mould = MouldKind::male);

/// Outside and inside of the sheet by place.
std::optional<geometry::VaryingFaces> varying_faces(const Piece& piece, const geometry::Loft& line,
                                                    const FormedSheet* formed);

/// How thick the sheet is by place; no value without a thickness.
std::optional<geometry::OffsetLaw> thickness_law(const Piece& piece, const geometry::Loft& line,
                                                 const FormedSheet* formed);

/// Part of the way from the node before the flange's root to it.
constexpr double k_flange_blend = 0.05;

}  // namespace sillwright::core
