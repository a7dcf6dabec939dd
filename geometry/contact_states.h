#pragma once

#include <vector>

#include "geometry/motion_search.h"

namespace sillwright::geometry {

/// Which angles are free, which touch, and which are neither proven.
///
/// Method: an interval is free if nothing in it comes nearer than the rounding
///   allowance and, at one of its angles, neither body is inside the other (that
///   cannot change without touching). It touches if at its middle an edge pierces
///   a triangle so deep that no motion over the interval can pull it out, or a
///   corner stands deeper inside the other closed body than it can travel. What
///   is neither is halved until it is an eighth of the bracket.
struct ContactStates {
    std::vector<AngleInterval> intervals;
    bool stopped = false;
    double depth_mm = 0.0;  ///< Deepest corner found inside the other body.
    double depth_angle = 0.0;
    Eigen::Vector3d depth_point = Eigen::Vector3d::Zero();
};
ContactStates contact_states(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                             const MotionQuestion& question, const Watch& watch);

/// True if some part of either closed body is inside the other with the door at an
/// angle at which the surfaces do not touch.
bool one_inside_other(const DistanceTree& fixed, const DistanceTree& moving, const Eigen::Isometry3d& door);

/// The deepest corner of `parts` inside a closed body, if one is deeper than `floor`; else `floor` itself.
struct Deepest {
    double depth;
    Eigen::Vector3d p = Eigen::Vector3d::Zero();  ///< In the body's frame.
};
Deepest deepest_corner(const DistanceTree& body, const DistanceTree& parts, const Eigen::Isometry3d& body_from_parts,
                       double floor);

}  // namespace sillwright::geometry
