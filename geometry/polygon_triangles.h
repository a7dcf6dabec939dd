#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// Triangles that fill a polygon, by cutting ears; no corner is added or left out.
///
/// Units and frame: any plane frame; indices count the corners.
/// Shape: n >= 3 corners, anticlockwise, not crossing itself; touching itself is
///   allowed. n - 2 triangles, anticlockwise; some may have no area where corners
///   lie on a straight.
/// Errors: does_not_fit if the polygon crosses itself or runs clockwise.
Result<std::vector<Triangle>> polygon_triangles(const std::vector<Eigen::Vector2d>& corners);

/// Signed area, positive if anticlockwise.
double polygon_area(const std::vector<Eigen::Vector2d>& corners);

}  // namespace sillwright::geometry
