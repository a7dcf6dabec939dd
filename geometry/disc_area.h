#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/units.h"

namespace sillwright::geometry {

/// How much of a disc lies over a polygon, square millimetres.
///
/// Units and frame: millimetres in one plane Cartesian frame.
/// Shape: corners in order round it, either way; the last is joined to the first. It does not cross itself. Fewer than
///   three: nothing.
/// Accuracy: exact to rounding: triangles and circular sectors, edge by edge.
/// Source: plane geometry (Green's theorem).
double disc_over_polygon_mm2(const std::vector<Eigen::Vector2d>& polygon_mm, const Eigen::Vector2d& centre_mm,
                             Length radius);

}  // namespace sillwright::geometry
