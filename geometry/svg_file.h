#pragma once

#include <string>

#include "geometry/drawing.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// The content of an SVG file of the drawing at its true size.
///
/// Units and frame: `width` and `height` in mm, and a view box in which one unit is a millimetre; y is turned about, so
///   that up is up. What stands at (x, y) in the drawing is at (x, -y) in the file.
/// Shape: a group for each layer, in their order, with its name as id; lines, circles, and paths with true arcs.
///   Strokes are 0.2 mm wide, in the layer's colour; a point is a small cross. Writing is TEXT in whatever plain font
///   the reader has, its capitals about as high as the drawing says, and is given one height for each letter in the
///   view box. The view box has 1 mm round all that is drawn.
/// Errors: as check_drawing.
/// Source: W3C, Scalable Vector Graphics (SVG) 1.1.
Result<std::string> svg_text(const Drawing& drawing);

}  // namespace sillwright::geometry
