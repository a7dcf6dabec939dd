#pragma once

#include <Eigen/Core>
#include <span>

#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// What a beam's section does against bending.
///
/// Units and frame: millimetres in the plane frame of the profiles, (x, y). The second moments are about the
///   centroid, along the frame's axes: xx is the integral of y², yy of x², xy of x · y.
struct AreaMoments {
    double area_mm2 = 0.0;
    Eigen::Vector2d centroid_mm = Eigen::Vector2d::Zero();
    double xx_mm4 = 0.0, yy_mm4 = 0.0, xy_mm4 = 0.0;

    /// The second moments along the two axes on which the product is zero.
    struct Principal {
        double greatest_mm4 = 0.0, least_mm4 = 0.0;
        /// From x to the axis about which it is greatest: ½ atan2(-2 xy, xx - yy), above -90 to 90 degrees; zero
        /// where all axes are alike.
        Angle axis;
    };
    [[nodiscard]] Principal principal() const;
};

/// Moments of the region on the left of closed profiles: an outline runs anticlockwise, a hole clockwise, in any order.
///
/// Shape: profiles may touch; where they cross, each place counts as often as it is gone round.
/// Accuracy: exact to rounding, about 1e-13 of the greatest part that is summed up, also for arcs of next to no
///   turn and for regions far from the origin.
/// Errors: invalid_argument for no profile, one that is open or empty, numbers that are not finite, or an area that
///   is not positive.
/// Source: Green's theorem: the polygon of the chords, plus the segment between each arc and its chord.
Result<AreaMoments> area_moments(std::span<const Profile> profiles);

}  // namespace sillwright::geometry
