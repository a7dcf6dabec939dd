#pragma once

#include <cstddef>
#include <string>

#include "geometry/drawing.h"

namespace sillwright::geometry {

/// Of a layer's name, at most.
inline constexpr std::size_t k_older_layer_letters = 31;

/// A drawing as DXF of release 12 (AC1009), in the drawing's own unit, which it cannot say: what dxf_text writes there.
///
/// Shape: sections HEADER, TABLES, BLOCKS (none) and ENTITIES; no handles.
/// Precondition: check_drawing has nothing against it.
std::string older_dxf_text(const Drawing& drawing);

}  // namespace sillwright::geometry
