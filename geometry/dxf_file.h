#pragma once

#include <string>

#include "geometry/drawing.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// The content of a DXF file of the drawing: release 2000 (AC1015), text, in
/// millimetres ($INSUNITS 4), with every table, block and object that readers
/// look for, and with the drawing's extents.
///
/// Shape: LINE, ARC, CIRCLE, LWPOLYLINE with bulges, TEXT and POINT on the
///   drawing's own layers. Numbers have the shortest digits that read back as
///   the same number, without exponent, in any locale.
///   Text outside ASCII is written as \U+XXXX, and so are characters that
///   readers would take for commands; control characters become blanks; what
///   is no UTF-8 or has no such code (beyond U+FFFF) becomes U+FFFD.
/// Errors: invalid_argument, naming the entity by its number from 1 and its
///   layer, for a number that is not finite, a radius or height that is not
///   positive, an arc without sweep or beyond a full turn, a chain of fewer
///   than two vertices, writing without words, or a layer that the drawing has
///   not; also for layers with equal names, other characters than A-Z 0-9 _,
///   or a colour outside 1 to 255.
/// Source: the published DXF reference of that release; checked with
///   independent readers in tests/reference.
Result<std::string> dxf_text(const Drawing& drawing);

}  // namespace sillwright::geometry
