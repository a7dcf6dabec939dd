#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <optional>
#include <vector>

#include "geometry/nest_shape.h"

namespace sillwright::geometry {

/// Moves that are not allowed: no-fit rings, where they are on the sheet.
struct NoGo {
    std::vector<Polygon> rings;
    Eigen::AlignedBox2d box;
};

/// Rings turned by quarters, then moved.
NoGo no_go(const std::vector<Polygon>& rings, int quarters, const Eigen::Vector2d& moved_mm);

/// The allowed move with the least `weight` . move that is less than `less_than`, if there is one.
///
/// Units and frame: millimetres of the sheet; `range` holds the moves that keep a part on it, borders included.
/// Method: the best move is a corner of the range or of a ring, or where borders of two of them cross. They are
///   tried in the order of their worth; crossings only as far as they can be better than the best corner.
/// Accuracy: up to 5e-4 mm inside a ring passes as touching it. Of equals the lower, then the left one.
/// Preconditions: weight is finite; less_than may be infinite.
std::optional<Eigen::Vector2d> best_move(const std::vector<NoGo>& no_go, const Eigen::AlignedBox2d& range,
                                         const Eigen::Vector2d& weight, double less_than);

}  // namespace sillwright::geometry
