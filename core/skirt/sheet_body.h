#pragma once

#include "core/forming/formed_sheet.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/result.h"
#include "geometry/ring_mesh.h"
#include "geometry/sheet_ring.h"
#include "geometry/units.h"
#include "geometry/varying_sheet_ring.h"

namespace sillwright::core {

/// Into what the faces of a piece's sheet are divided: of one thickness, or of one by place.
struct SheetLayout {
    geometry::RingLayout same;
    geometry::VaryingLayout varying;
};

/// Chords enough for both.
void widen(SheetLayout& layout, const SheetLayout& other);

/// A layout for the piece's line, and its sheet as a body. `formed` null: as thick as the sheet everywhere, by
/// geometry/sheet_ring.h; else as formed, by geometry/varying_sheet_ring.h.
/// Errors: as there. Precondition: the piece has a sheet, and the layout was made with as much of `formed`.
geometry::Result<SheetLayout> layout_of_piece(const Piece& piece, const geometry::Loft& line, const FormedSheet* formed,
                                              geometry::Length sagitta);
geometry::Result<geometry::RingBody> sheet_body(const Piece& piece, const geometry::Loft& line,
                                                const FormedSheet* formed, const SheetLayout& layout);

/// Both at once.
geometry::Result<geometry::RingBody> sheet_body(const Piece& piece, const geometry::Loft& line,
                                                const FormedSheet* formed, geometry::Length sagitta);

}  // namespace sillwright::core
