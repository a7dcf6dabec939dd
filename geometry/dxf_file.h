#pragma once

#include <string>

#include "geometry/drawing.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// Of the published format: release 12 (AC1009), which every program reads, and release 2000 (AC1015).
enum class DxfRelease { r12, r2000 };
enum class DxfUnit { millimetres, inches };

struct DxfOptions {
    DxfRelease release = DxfRelease::r2000;
    DxfUnit unit = DxfUnit::millimetres;
};

/// The content of a DXF file of the drawing, as text, with the drawing's extents.
///
/// Units and frame: the drawing is in millimetres; in a file in inches every place, radius and height is divided by
///   25.4. Release 2000 says its unit ($INSUNITS 4 or 1, $MEASUREMENT 1 or 0). Release 12 has no word for it: the
///   drawing itself must say it.
/// Shape: LINE, ARC, CIRCLE, TEXT and POINT on the drawing's own layers; chains as LWPOLYLINE with bulges, in release
///   12 as POLYLINE with VERTEX and SEQEND. Release 2000 has every table, block and object that readers look for;
///   release 12 has no handles, as it need not. Numbers have the shortest digits that read back as the same number,
///   without exponent, in any locale.
///   Text outside ASCII is written as \U+XXXX, and so are characters that
///   readers would take for commands; control characters become blanks; what
///   is no UTF-8 or has no such code (beyond U+FFFF) becomes U+FFFD. Readers that know release 12 alone
///   do not know this: give them ASCII.
/// Errors: as check_drawing; invalid_argument in release 12 for a layer's name of more than 31 letters.
/// Source: the published DXF references of these releases; checked with
///   independent readers in tests/reference.
Result<std::string> dxf_text(const Drawing& drawing, const DxfOptions& options = {});

}  // namespace sillwright::geometry
