#pragma once

#include "geometry/kernel/shape.h"
#include "geometry/result.h"
#include "geometry/ring_mesh.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// The kernel's solid of a body made from a loft, without a boolean.
///
/// Units and frame: millimetres, (along, out, up) as in `mesh`.
/// Shape: for every strip of the outline one B-spline surface: across it straight
///   (degree 1) or a circular arc (degree 2, rational); along the car cubic with the
///   station parameter, so that a cut at a station is a parameter line. Faces end at
///   run-outs and where a strip's width begins or ends. The ends are flat. One closed
///   solid, faces outward, valid by the kernel's checker.
/// Accuracy: edges and middles of strips are within `fit` of the loft, checked at
///   1/4, 1/2 and 3/4 between the rows of poles. The kernel's volume is checked against
///   the mesh's: it may differ by (deviation + fit) times the area.
/// Errors: invalid_argument if the body has no curves or `fit` is not positive;
///   does_not_fit as the outline says; kernel_failure if the kernel fails, its checker
///   objects, or the volumes disagree, with the numbers.
Result<Shape> make_solid(const RingBody& body, const RingMesh& mesh, Length fit);

}  // namespace sillwright::geometry
