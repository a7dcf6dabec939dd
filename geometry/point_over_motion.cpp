#include "geometry/point_over_motion.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <utility>

namespace sillwright::geometry {

namespace {

constexpr std::array<std::int32_t, 1> k_only{0};

/// A point as a triangle without area.
Mesh mesh_of_point(const Eigen::Vector3d& p_mm) {
    return {{p_mm}, {{0, 0, 0}}, {}};
}

/// A point further out than those that are asked for: the search allows for the rounding of its coordinates.
Eigen::Vector3d far_point(const DistanceTree& moving, const HingeMotion& motion) {
    return Eigen::Vector3d::Constant(2.0 * moving.greatest_coordinate_mm() +
                                     motion.axis_point_mm.cwiseAbs().maxCoeff());
}

}  // namespace

PointOverMotion::PointOverMotion(const DistanceTree& moving, const HingeMotion& motion, Angle from, Angle to)
    : moving_{&moving},
      motion_{motion},
      from_{from},
      to_{to},
      point_{std::make_unique<DistanceTree>(DistanceTree::build(mesh_of_point(far_point(moving, motion))).value())},
      search_{*point_, moving, motion, {}} {
    assert(check_question(motion, {from, to}));
}

Length PointOverMotion::proven(const Eigen::Vector3d& p_mm, Length tolerance, double part) {
    point_->refit(mesh_of_point(p_mm), k_only);
    Pair best;
    if (last_) {
        best = search_.pair_at(last_->fixed_slot, last_->moving_slot, last_->angle);
    } else {
        best = search_.near_pair(in_rad(from_));
    }
    const auto minimum = search_.minimise(in_rad(from_), in_rad(to_), {in_mm(tolerance), part}, best);
    last_ = best;
    if (minimum.ending != MotionSearch::Ending::done) {
        return Length{};
    }
    return millimetres(std::max(0.0, minimum.lower - search_.rounding_mm()));
}

bool PointOverMotion::inside_at_first(const Eigen::Vector3d& p_mm) const {
    return moving_->closed() && inside(*moving_, pose(motion_, from_).inverse() * p_mm);
}

}  // namespace sillwright::geometry
