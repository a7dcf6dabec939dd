#pragma once

#include <Eigen/Core>
#include <optional>
#include <variant>
#include <vector>

#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// A corner of a profile in a section plane, rounded by `radius` where the
/// two neighbouring straights would meet.
///
/// Units and frame: millimetres; (out, up) in a section of the car, any plane
///   Cartesian frame otherwise.
struct ProfileNode {
    Eigen::Vector2d p_mm = Eigen::Vector2d::Zero();
    Length radius;
};

struct LineSegment {
    Eigen::Vector2d from, to;
};

/// A circular arc; `sweep` is positive anticlockwise, never zero.
struct ArcSegment {
    Eigen::Vector2d centre;
    double radius_mm;
    Angle start;  ///< Direction from the centre to the first point.
    Angle sweep;
};

/// One piece of a profile, and the node that it came from: an arc's own node,
/// a line's first node.
struct Segment {
    std::variant<LineSegment, ArcSegment> shape;
    std::size_t node;
};

/// Lines and tangent arcs end to end.
struct Profile {
    std::vector<Segment> segments;
    bool closed = false;
};

Eigen::Vector2d start_point(const Segment& segment);
Eigen::Vector2d end_point(const Segment& segment);

/// Lines and arcs through `nodes`. Straights between neighbours, each inner
/// corner rounded by an arc tangent to both. Neighbours at one place are one
/// node; a node in a straight line gives no arc.
///
/// Shape: n >= 2 nodes open, n >= 3 closed. The radius of an open chain's ends
///   is not used.
/// Errors: invalid_argument for too few nodes or a coordinate that is not
///   finite or a negative radius; does_not_fit, naming the node's number
///   (from 1) and the largest radius that fits, where two roundings need more
///   than the straight between them, or where the chain turns back on itself.
Result<Profile> make_profile(const std::vector<ProfileNode>& nodes, bool closed);

Length length(const Profile& profile);

/// Area enclosed by a closed profile, square millimetres, positive if it runs
/// anticlockwise. Exact to rounding: polygon plus circular segments (Green).
double enclosed_area_mm2(const Profile& profile);

struct NearestOnProfile {
    Eigen::Vector2d p_mm;
    Length distance;
    std::size_t segment;
    Length along;  ///< Arc length from the profile's start.
};
/// Nearest point of a profile of one or more segments; the first of equals.
NearestOnProfile nearest_point(const Profile& profile, const Eigen::Vector2d& p_mm);

/// Points on the profile, ends and joints included, so that no arc stands more
/// than `chord_tolerance` off its chords. A closed profile's first point is
/// repeated at the end.
/// Errors: invalid_argument if the tolerance is not positive.
Result<std::vector<Eigen::Vector2d>> polyline(const Profile& profile, Length chord_tolerance);

/// The parallel of a profile, and what did not survive.
struct Parallel {
    std::vector<Profile> chains;        ///< In the order of the source; none if all vanished.
    std::vector<std::size_t> vanished;  ///< Nodes whose rounding is gone, rising.
    bool crossings_removed = false;     ///< Some of the raw parallel crossed itself and was cut off.
};

/// All points at exactly `distance` to the left (positive) or right (negative)
/// of the profile and nowhere nearer to it: lines shifted, arcs with a larger
/// or smaller radius, sharp outer corners rounded about the corner, pieces
/// beyond self-crossings removed. For an open chain the ends are square: the
/// half circles about its two ends are not part of the result.
///
/// Accuracy: exact up to rounding; pieces shorter than 1e-7 mm are dropped, and
///   no point is nearer to the source than |distance| - 1e-7 mm.
/// Errors: invalid_argument for an empty profile or a distance not finite.
Result<Parallel> parallel(const Profile& profile, Length distance);

}  // namespace sillwright::geometry
