#pragma once

#include <Eigen/Core>
#include <variant>

#include "geometry/units.h"

namespace sillwright::geometry {

struct LineSegment {
    Eigen::Vector2d from, to;
};

/// A circular arc; `sweep` is positive anticlockwise, never zero, one turn at most.
struct ArcSegment {
    Eigen::Vector2d centre;
    double radius_mm;
    Angle start;  ///< Direction from the centre to the first point.
    Angle sweep;
};

/// One piece of a profile, and the node that it came from: an arc's own node,
/// a line's first node.
///
/// Units and frame: millimetres in one plane Cartesian frame, for all functions
///   below. A `fraction` runs from 0 at the start to 1 at the end and is
///   proportional to arc length.
struct Segment {
    std::variant<LineSegment, ArcSegment> shape;
    std::size_t node;
};

Eigen::Vector2d start_point(const Segment& segment);
Eigen::Vector2d end_point(const Segment& segment);
Eigen::Vector2d point_at(const Segment& segment, double fraction);

/// Unit vector along the direction of travel. Precondition: not of zero length.
Eigen::Vector2d direction_at(const Segment& segment, double fraction);

Length length(const Segment& segment);

/// Where on the segment, 0..1, it is nearest to `p_mm`. From an arc's centre all
/// is equally near; some point of the arc is given.
double nearest_fraction(const Segment& segment, const Eigen::Vector2d& p_mm);

/// Distance of `p_mm` from the segment, ends included.
Length distance_to(const Segment& segment, const Eigen::Vector2d& p_mm);

/// The part between two fractions, `from` < `to`, in the same direction.
Segment part_of(const Segment& segment, double from, double to);

/// The same points, run through the other way.
Segment reversed(const Segment& segment);

}  // namespace sillwright::geometry
