#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/result.h"
#include "geometry/segment.h"
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

/// Lines and tangent arcs end to end.
struct Profile {
    std::vector<Segment> segments;
    bool closed = false;
};

/// Lines and arcs through `nodes`. Straights between neighbours, each inner
/// corner rounded by an arc tangent to both. Neighbours less than 1e-9 mm apart
/// are one node, the first, with the greater radius; a node in a straight line
/// gives no arc; two roundings may use up the straight between them exactly.
///
/// Shape: n >= 2 nodes open, n >= 3 closed. The radius of an open chain's ends
///   is not used.
/// Accuracy: joints meet and are tangent to rounding (1e-9 mm within 1 km).
/// Errors: invalid_argument for too few nodes or places, or a coordinate or
///   radius that is not finite, negative (radius) or beyond 1 km; does_not_fit,
///   naming the node's number (from 1) and the largest radius that fits, where
///   two roundings need more than the straight between them, or where the
///   chain turns back on itself.
Result<Profile> make_profile(const std::vector<ProfileNode>& nodes, bool closed);

Length length(const Profile& profile);

/// Area enclosed by a closed profile, square millimetres, positive if it runs
/// anticlockwise. Exact to rounding: polygon plus circular segments (Green).
/// An open one is taken as closed by the straight between its ends.
double enclosed_area_mm2(const Profile& profile);

struct NearestOnProfile {
    Eigen::Vector2d p_mm;
    Length distance;
    std::size_t segment;
    Length along;  ///< Arc length from the profile's start.
};
/// Nearest point of a profile of one or more segments; the first of equals.
NearestOnProfile nearest_point(const Profile& profile, const Eigen::Vector2d& p_mm);

/// Whether the profile winds round `p_mm` at least once, either way. A point
/// within 1e-9 mm of the profile itself is inside.
/// Precondition: the profile is closed and has a segment.
bool contains(const Profile& closed, const Eigen::Vector2d& p_mm);

/// The same points, run through from the other end.
Profile reversed(const Profile& profile);

/// Points on the profile, ends and joints included, so that no arc stands more
/// than `chord_tolerance` off its chords. A closed profile's first point is
/// repeated at the end.
/// Errors: invalid_argument for an empty profile, or a tolerance that is not
///   finite or below 1e-7 mm (it would ask for millions of points).
Result<std::vector<Eigen::Vector2d>> polyline(const Profile& profile, Length chord_tolerance);

}  // namespace sillwright::geometry
