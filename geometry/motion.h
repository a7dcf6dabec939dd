#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>

#include "geometry/units.h"

namespace sillwright::geometry {

/// A door on its hinges: a turn about the hinge axis, and a sag that comes with it.
///
/// A point p of the door as it was shut goes to
///   A + R(u, angle) R(y, sag(angle)) (p - A),  sag(angle) = at_once + growth * angle / opening,
/// which is the turn about the hinge axis followed by a turn about the line
/// through A along R(u, angle) y: R(R(u,a) y, s) R(u, a) = R(u, a) R(y, s).
///
/// Units and frame: millimetres and radians; one right-handed Cartesian frame
///   for the point, both directions and the bodies.
/// Sense: right-hand rule about each direction. With x rearward and z up, a
///   positive turn about y lowers what lies rearward, on either side of the car.
///   On the car's left a door opens by a positive angle about an axis that points
///   down.
struct HingeMotion {
    Eigen::Vector3d axis_point_mm = Eigen::Vector3d::Zero();    ///< A
    Eigen::Vector3d axis_direction = Eigen::Vector3d::UnitZ();  ///< u, unit
    Eigen::Vector3d sag_direction = Eigen::Vector3d::UnitY();   ///< y, unit
    Angle sag_at_once;
    Angle sag_growth;               ///< Further sag when open by `opening`.
    Angle opening = degrees(90.0);  ///< > 0; where the growth is complete.

    /// Sag at an angle.
    [[nodiscard]] Angle sag(Angle angle) const;
    /// Sag per turn, radians per radian.
    [[nodiscard]] double sag_rate() const { return sag_growth / opening; }

    friend bool operator==(const HingeMotion&, const HingeMotion&) = default;
};

/// The door's place at an angle: p_open = pose * p_shut.
Eigen::Isometry3d pose(const HingeMotion& motion, Angle angle);

/// The mirror image of the motion in the plane y = 0.
HingeMotion mirrored_y(const HingeMotion& motion);

}  // namespace sillwright::geometry
