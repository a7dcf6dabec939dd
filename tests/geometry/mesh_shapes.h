#pragma once

#include <Eigen/Geometry>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "geometry/mesh.h"

// Closed meshes for tests, facing outward.

namespace sillwright::geometry {

/// The box from the origin to `size`, of 8 points and 12 triangles.
inline Mesh box(const Eigen::Vector3d& size) {
    Mesh mesh;
    for (int i = 0; i < 8; ++i) {
        mesh.points.emplace_back((i & 1) != 0 ? size.x() : 0.0, (i & 2) != 0 ? size.y() : 0.0,
                                 (i & 4) != 0 ? size.z() : 0.0);
    }
    mesh.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                      {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    return mesh;
}

/// A ball of `rings` x `around` faces, about `centre`.
inline Mesh ball(const Eigen::Vector3d& centre, double radius, std::int32_t rings, std::int32_t around) {
    Mesh mesh;
    mesh.points.push_back(centre + radius * Eigen::Vector3d::UnitZ());
    for (std::int32_t r = 1; r < rings; ++r) {
        const double polar = std::numbers::pi * r / rings;
        for (std::int32_t a = 0; a < around; ++a) {
            const double turn = 2.0 * std::numbers::pi * a / around;
            mesh.points.push_back(centre + radius * Eigen::Vector3d{std::sin(polar) * std::cos(turn),
                                                                    std::sin(polar) * std::sin(turn), std::cos(polar)});
        }
    }
    mesh.points.push_back(centre - radius * Eigen::Vector3d::UnitZ());
    const auto at = [&](std::int32_t r, std::int32_t a) { return 1 + (r - 1) * around + a % around; };
    const auto last = static_cast<std::int32_t>(mesh.points.size()) - 1;
    for (std::int32_t a = 0; a < around; ++a) {
        mesh.triangles.push_back({0, at(1, a), at(1, a + 1)});
        mesh.triangles.push_back({last, at(rings - 1, a + 1), at(rings - 1, a)});
        for (std::int32_t r = 1; r + 1 < rings; ++r) {
            mesh.triangles.push_back({at(r, a), at(r + 1, a), at(r + 1, a + 1)});
            mesh.triangles.push_back({at(r, a), at(r + 1, a + 1), at(r, a + 1)});
        }
    }
    return mesh;
}

}  // namespace sillwright::geometry
