#pragma once

#include <Eigen/Core>
#include <functional>
#include <stop_token>
#include <vector>

#include "geometry/distance_tree.h"
#include "geometry/motion.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// Lets a long computation be stopped and followed. Both may be empty.
struct Watch {
    std::stop_token stop;
    std::function<void(double part)> progress;  ///< 0 to 1, rising; called now and then.
};

/// What is known of an angle.
enum class AngleState {
    free,              ///< Proven: the surfaces do not touch, and neither body is inside the other.
    touching,          ///< Proven: surfaces cross, or one closed body holds a part of the other.
    within_tolerance,  ///< Neither is proven.
};

struct AngleInterval {
    Angle from, to;
    AngleState state;
};

struct MotionQuestion {
    Angle from, to;                        ///< from <= to; half a turn at most.
    Length tolerance = millimetres(0.01);  ///< Between the attained and the proven distance, > 0.
    Angle bracket = degrees(0.02);         ///< Between a free and a touching angle, > 0.
};

/// The least distance of two bodies over a motion.
struct MotionDistance {
    bool touches = false;  ///< Some angle is proven touching.
    Length least;          ///< Attained at `at`; zero if it touches.
    Length proven;         ///< No angle has less: a lower bound, least - proven <= tolerance; zero if it touches.
    Angle at;              ///< Where it is least; the first touching angle if it touches.
    Eigen::Vector3d on_fixed_mm, on_moving_mm;  ///< Nearest points with the door at `at`.
    std::int32_t fixed_triangle = 0, moving_triangle = 0;
    std::vector<AngleInterval> states;  ///< From `from` to `to` without a gap, neighbours of different state.
    Length depth;                       ///< If it touches: the deepest corner found, at least this deep.
    Angle depth_at;
    Eigen::Vector3d depth_point_mm = Eigen::Vector3d::Zero();
};

/// Least distance between a fixed body and one that moves, over all angles of an
/// interval, by branch and bound over space and angle together.
///
/// Units and frame: millimetres, radians; the moving body's tree holds its points
///   as at angle zero without sag, in the frame of the fixed body.
/// Method: pairs of boxes are compared over a whole interval of angles along a
///   direction n. A point x (from the axis point) moves along n by
///   a + b cos + c sin of the angle, which is bounded exactly, and its box by its
///   extents along n and along n x u; the sag adds its own first and second
///   order. Pairs that cannot come nearer than the best so far, less the
///   tolerance, are dropped; what is left is split in space or in angle.
/// Accuracy: `least` is attained, polished over the angle on its own pair of
///   triangles to 1e-9 mm. `proven` holds for the two meshes exactly, less
///   k_rounding_parts * 2^-53 of the greatest coordinate, which is taken off; for
///   bodies that stand for curved surfaces the caller takes off both deviations.
/// Touching: contact without crossing (distance 0) is `within_tolerance` unless a
///   crossing can be proven. Bodies that are not closed have no inside.
/// Errors: invalid_argument for from > to, more than half a turn, a tolerance or
///   bracket not positive, a zero-length axis; stopped if asked to stop.
Result<MotionDistance> least_distance(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                                      const MotionQuestion& question, const Watch& watch = {});

/// Why a question cannot be asked, as least_distance would refuse it.
Status check_question(const HingeMotion& motion, const MotionQuestion& question);

/// Rounding allowance of `proven`: this many units in the last place of the greatest coordinate.
constexpr double k_rounding_parts = 256.0;

/// Distance at one angle, and the nearest points.
struct PoseDistance {
    Angle at;
    Length distance;  ///< Zero if the surfaces touch.
    Eigen::Vector3d on_fixed_mm, on_moving_mm;
    std::int32_t fixed_triangle = 0, moving_triangle = 0;
};
/// Accuracy: 1e-9 mm.
PoseDistance distance_at(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion, Angle angle);

/// Distance at evenly spaced angles, `from` and `to` among them, no further
/// apart than `step`.
/// Errors: invalid_argument as above, or a step not positive or so small that
///   more than 100 000 angles would be asked for; stopped.
Result<std::vector<PoseDistance>> clearance_curve(const DistanceTree& fixed, const DistanceTree& moving,
                                                  const HingeMotion& motion, Angle from, Angle to, Angle step,
                                                  const Watch& watch = {});

}  // namespace sillwright::geometry
