#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "geometry/profile.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// What a node of a chain is: an end of an open chain, a real corner, or a mere
/// point on a straight (no turn, or at the same place as the real corner).
enum class CornerKind { end, turn, on_straight };

/// A node of a chain with all that its rounding and its parallels need.
///
/// Units and frame: millimetres, the frame of the nodes.
struct Corner {
    CornerKind kind = CornerKind::on_straight;
    Eigen::Vector2d p_mm = Eigen::Vector2d::Zero();
    Eigen::Vector2d before = Eigen::Vector2d::Zero();  ///< Unit direction of the straight that arrives.
    Eigen::Vector2d after = Eigen::Vector2d::Zero();   ///< Unit direction of the straight that leaves.
    double radius_mm = 0.0;
    double side = 0.0;      ///< +1 turns left, -1 turns right, 0 no corner.
    double tan_half = 0.0;  ///< Tangent of half the turn, never negative.

    /// Radius of the rounding on the parallel at `offset_mm` to the left; not
    /// positive where two parallel straights meet in a point instead.
    [[nodiscard]] double radius_at(double offset_mm) const { return radius_mm - side * offset_mm; }
    /// How much of either straight's parallel the corner takes.
    [[nodiscard]] double setback_at(double offset_mm) const {
        return (side * offset_mm > radius_mm ? side * offset_mm : radius_mm) * tan_half;
    }
};

/// Corners for `nodes`, one each, written over `corners`. Of several nodes at one
/// place the one of the largest radius is the corner (the first of equals).
///
/// Errors: does_not_fit, naming the node by `names`, where the chain turns back on
///   itself or all nodes are at one place.
Status find_corners(const std::vector<ProfileNode>& nodes, const std::vector<std::string>& names, bool closed,
                    std::vector<Corner>& corners);

/// Whether all corners of the parallel at `offset_mm` to the left have room on
/// the straights between them (0 for the chain itself).
///
/// Errors: does_not_fit, naming the two nodes, the room, the need, and the radius
///   (or for a parallel the distance) that would fit.
Status check_room(const std::vector<Corner>& corners, const std::vector<std::string>& names, bool closed,
                  double offset_mm);

}  // namespace sillwright::geometry
