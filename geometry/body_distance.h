#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <limits>

#include "geometry/distance_tree.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// How near two bodies that stand still come to each other.
struct BodyDistance {
    bool touches = false;  ///< Surfaces touch or cross, or one closed body is inside the other.
    Length least;          ///< Attained; zero if they touch.
    Length proven;         ///< A lower bound, least - proven <= the tolerance and rounding; zero if they touch.
    /// Nearest points. Of bodies that touch: the deepest corner found and the nearest place of the other's surface;
    /// where no corner is inside, a place where the surfaces meet, twice.
    Eigen::Vector3d on_first_mm = Eigen::Vector3d::Zero();
    Eigen::Vector3d on_second_mm = Eigen::Vector3d::Zero();
    std::int32_t first_triangle = 0, second_triangle = 0;
    Length depth;  ///< Of bodies that touch: reached at least; zero where no corner of one is inside the other.
};

struct BodyQuestion {
    /// Between the attained and the proven distance: the greater of a length and a part of the distance. Zero for
    /// both asks for the exact one.
    Length tolerance{};
    double part = 0.0;
};

/// Least distance of two fixed bodies in one frame.
///
/// Method: pairs of boxes of both trees, the nearer first; a pair that is parted by more than the best so far, less
///   the tolerance, is dropped. Boxes are parted along the line between them, their faces, and the direction that
///   parted the boxes above.
/// Accuracy: `least` to rounding of the triangles' distance. `proven` holds for the two meshes, with the rounding
///   allowance of motion_distance.h taken off; for bodies that stand for curved surfaces the caller takes off the
///   deviations.
/// Touching: bodies that are not closed have no inside; one triangle without area may stand for a line or a point.
BodyDistance body_distance(const DistanceTree& first, const DistanceTree& second, const BodyQuestion& question = {});

}  // namespace sillwright::geometry
