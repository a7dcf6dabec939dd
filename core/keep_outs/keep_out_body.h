#pragma once

#include <Eigen/Core>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/job.h"
#include "geometry/distance_tree.h"
#include "geometry/mesh.h"

namespace sillwright::core {

/// A keep-out as a closed mesh with its distance tree.
///
/// Units and frame: millimetres, (along, out, up).
/// Shape: a box is itself. A strip is a prism round each of its straights, its ends flat, with a ball at every joint;
///   a wheel is a prism across the car. Prisms and balls stand about the round that they are for, so that no
///   distance is found too large.
/// Accuracy: mesh.deviation, by how far the mesh stands beyond the round at most: k_round_deviation_mm or less.
struct KeepOutBody {
    geometry::Mesh mesh;
    std::shared_ptr<const geometry::DistanceTree> tree;  ///< Null if something is missing.
    std::vector<std::string> missing;                    ///< What must be measured before there is a body.
    Eigen::Vector3d low_mm = Eigen::Vector3d::Zero(), high_mm = Eigen::Vector3d::Zero();  ///< The box about it.
};

KeepOutBody keep_out_body(const KeepOut& keep_out);

/// What must be free below a jacking pad, whose lifting face is the lowest of the keep-out: room for a jack, and the
/// way by which the pad of a lift's arm slides in from beside the car. Sizes: common practice, no source.
struct LiftRoom {
    KeepOutBody jack;  ///< 120 along, 90 across, 150 down.
    KeepOutBody arm;   ///< 150 along, from 30 inside the pad's middle outwards to beyond any part, 150 down.
};
LiftRoom lift_room(const KeepOutBody& pad);

/// The bodies of a job's keep-outs, made once for as long as these stay as they are.
struct KeepOutBodies {
    std::vector<KeepOut> made_of;
    std::vector<KeepOutBody> bodies;             ///< As made_of.
    std::vector<std::optional<LiftRoom>> lifts;  ///< As made_of; of jacking pads.
};
KeepOutBodies keep_out_bodies(const Job& job);

/// A closed box between two corners, `low` below `high` in each number.
geometry::Mesh box_between(const Eigen::Vector3d& low_mm, const Eigen::Vector3d& high_mm);

constexpr double k_round_deviation_mm = 0.05;

}  // namespace sillwright::core
