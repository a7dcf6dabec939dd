#pragma once

#include <Eigen/Core>
#include <array>

namespace sillwright::geometry {

/// Three corners, millimetres. Corners may coincide: a triangle may be an edge
/// or a point.
using Corners = std::array<Eigen::Vector3d, 3>;

/// Two points and how far apart they are; `squared_mm2` is zero, and the points
/// are equal, where the figures touch or cross.
struct ClosestPoints {
    Eigen::Vector3d on_first, on_second;
    double squared_mm2;
};

/// Nearest point of a segment to a point.
Eigen::Vector3d nearest_on_segment(const Eigen::Vector3d& p, const Eigen::Vector3d& a, const Eigen::Vector3d& b);

/// Nearest points of two segments; either may be a point.
ClosestPoints segment_distance(const Eigen::Vector3d& a0, const Eigen::Vector3d& a1, const Eigen::Vector3d& b0,
                               const Eigen::Vector3d& b1);

/// Nearest point of a triangle to a point.
/// Source: C. Ericson, Real-Time Collision Detection (2005), 5.1.5: by regions.
Eigen::Vector3d nearest_on_triangle(const Eigen::Vector3d& p, const Corners& triangle);

/// Nearest points of two triangles.
///
/// Accuracy: rounding only; of the order of 1e-13 of the coordinates.
/// Touching counts as distance zero; so does crossing.
ClosestPoints triangle_distance(const Corners& first, const Corners& second);

/// Where the segment pierces the triangle, as the five signed volumes that say so.
///
/// Sixfold volumes of (a, b, c, p), (a, b, c, q) and of the segment with each
/// edge; the segment pierces the inside if the first two differ in sign and the
/// last three agree.
struct Piercing {
    double side_p, side_q;
    std::array<double, 3> edges;

    [[nodiscard]] bool pierces() const;
};
Piercing piercing(const Eigen::Vector3d& p, const Eigen::Vector3d& q, const Corners& triangle);

}  // namespace sillwright::geometry
