#pragma once

#include <Eigen/Core>
#include <span>

#include "core/survey/book.h"

/// The number that a reading shows when its points stand at given places: the one place with the conventions of all
/// kinds. `plumb_up` (core/survey/start.h) says how a set-up leans.
namespace sillwright::core::survey {

/// How many points a reading of this kind has. Gap and depth may have one instead of two: they then have no geometry,
/// and `shown` is not for them.
int point_count(ReadingKind kind);

/// How many numbers it gives: three of a gauge, else one.
int number_count(ReadingKind kind);

/// Of a gauge "out", "up", "along"; of others empty.
const char* number_name(ReadingKind kind, int number);

constexpr int k_most_points = 4;

/// One number of a reading, and how it changes with all that it depends on.
struct Shown {
    double value = 0.0;  ///< mm, or rad of angle and slope.
    /// By the coordinates of each point, one column a point.
    Eigen::Matrix<double, 3, k_most_points> by_point = Eigen::Matrix<double, 3, k_most_points>::Zero();
    Eigen::Vector2d by_lean = Eigen::Vector2d::Zero();  ///< By roll and pitch of its set-up, per rad.
    double by_tilt = 0.0;                               ///< By the gauge's tilt, per rad.
};

/// Units and frame: millimetres and radians in the job's frame (along, out, up).
/// Conventions:
///   offset  n·(p - start), n level and square to the string. Positive towards +out; of a string that runs across the
///           car (|n's out| below 0.1) to the rear.
///   plane   n·(p - first). Positive outward or upward, whichever n is nearer to; of a plane across the car (both below
///           0.1) to the rear.
///   gauge   out' = cos t·Δout + sin t·Δup, up' = cos t·Δup - sin t·Δout, t its tilt: positive if its outer end stands
///           high. Third number: Δalong, which is 0, as the gauge stands in the section plane.
///   angle   0 to 180°; slope -90° to 90°.
/// Accuracy: rounding. Where a number has no derivative (points that coincide, a straight or no angle, a plumb line's
///   slope) the derivatives that fail are zero.
/// Precondition: points.size() == point_count(kind), number < number_count(kind).
Shown shown(ReadingKind kind, int number, std::span<const Eigen::Vector3d> points_mm, const Eigen::Vector2d& lean_rad,
            double tilt_rad);

}  // namespace sillwright::core::survey
