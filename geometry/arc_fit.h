#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/segment.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// Straights and true arcs, end to end, along a dense row of points: few of them, each as long as it may be.
///
/// Units and frame: millimetres in one plane frame.
/// Shape: from the first point to the last, each joint at one of the points; a straight where one is near enough, else
///   an arc through the first, the middle and the last of its points. Arcs need not be tangent at joints. Neighbouring
///   points at one place are one; no segment where fewer than two places are left. `node` is put in each segment.
/// Accuracy: no point is further than `tolerance` from its segment, and points follow one another along it; between
///   points nothing is promised. Points of one straight, or of one arc, give that alone, to rounding.
/// Precondition: tolerance > 0, coordinates are finite.
std::vector<Segment> lines_and_arcs(const std::vector<Eigen::Vector2d>& points_mm, Length tolerance, std::size_t node);

}  // namespace sillwright::geometry
