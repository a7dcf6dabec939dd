#pragma once

#include "geometry/mesh.h"
#include "geometry/result.h"
#include "geometry/ring_mesh.h"
#include "geometry/units.h"

namespace sillwright::core {

enum class End { front, rear };

/// The plate that closes one end of a sheet body: between the sheet's inside line
/// and the straight from its last point to its first, `thickness` long, within the
/// body's length.
///
/// Units and frame: (along, out, up) in millimetres.
/// Shape: a closed mesh that touches the sheet's inside.
/// Errors: does_not_fit if the piece is shorter than the plate is thick, or the
///   straight between the line's ends crosses the line.
geometry::Result<geometry::Mesh> end_cap(const geometry::RingBody& sheet, End end, geometry::Length thickness,
                                         geometry::Length deviation);

}  // namespace sillwright::core
