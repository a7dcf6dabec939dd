#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// The part of a closed mesh on the side of a plane where normal . p <= height,
/// closed by a flat face in the plane.
///
/// Units and frame: millimetres, one frame for mesh and plane; `normal` a unit vector.
/// Shape: closed and outward if `mesh` is. An empty mesh if nothing is left; a
///   corner in the plane counts as inside.
/// Accuracy: exact for the mesh up to rounding; corners nearer than 1e-9 mm to the
///   plane are taken to lie in it. `deviation` is carried over.
/// Errors: does_not_fit if the cut has a hole in it (a hollow body).
Result<Mesh> cut_off(const Mesh& mesh, const Eigen::Vector3d& normal, double height_mm);

/// The part of a closed body within its side outline: a polygon seen from the side,
/// the same all the way across the car. For a door: its shut lines and lower corners.
///
/// Units and frame: millimetres; mesh points are (along, out, up), the outline's
///   (along, up), either way round, first corner not repeated.
/// Shape: closed and outward if `mesh` is. An outline with corners that turn in
///   gives several closed parts that touch.
/// Accuracy: the outline is first moved outward by mesh.deviation, so that no point
///   of the true trimmed body is further than `deviation` from the result. The
///   result may stand out beyond the true edge by twice the deviation over the sine of
///   the angle between surface and cut.
/// Errors: invalid_argument for fewer than three corners, one not finite, or an
///   outline that crosses itself; does_not_fit if it leaves nothing of the body.
Result<Mesh> trimmed_to_outline(const Mesh& mesh, const std::vector<Eigen::Vector2d>& outline_mm);

}  // namespace sillwright::geometry
