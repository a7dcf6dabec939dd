#pragma once

#include <Eigen/Core>
#include <memory>
#include <optional>

#include "geometry/distance_tree.h"
#include "geometry/motion.h"
#include "geometry/motion_distance.h"
#include "geometry/motion_search.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// Distances of many points, one near the other, from a body that moves: what has been found out for
/// one point is the first guess for the next.
///
/// Units and frame: millimetres, in the frame of the motion.
/// Lifetime: holds the tree's address.
class PointOverMotion {
public:
    /// Precondition: as least_distance asks of motion and interval (check_question).
    PointOverMotion(const DistanceTree& moving, const HingeMotion& motion, Angle from, Angle to);

    /// No angle has the body nearer to `p_mm` than this; zero where it touches the point. No more below the true
    /// least distance than the greater of `tolerance` and `part` of it.
    [[nodiscard]] Length proven(const Eigen::Vector3d& p_mm, Length tolerance, double part = 0.0);

    /// Whether the closed body holds the point at the interval's first angle.
    [[nodiscard]] bool inside_at_first(const Eigen::Vector3d& p_mm) const;

private:
    using Pair = MotionSearch::Pair;

    const DistanceTree* moving_;
    HingeMotion motion_;
    Angle from_, to_;
    std::unique_ptr<DistanceTree> point_;  ///< Its address is kept.
    MotionSearch search_;
    std::optional<Pair> last_;
};

}  // namespace sillwright::geometry
