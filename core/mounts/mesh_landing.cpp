#include "core/mounts/mesh_landing.h"

#include <Eigen/Geometry>
#include <cmath>

#include "core/mounts/landing.h"
#include "core/sill_frame.h"

namespace sillwright::core {

using Eigen::Vector3d;

namespace {

/// How far outside a triangle (as a share of it) still meets it: no gap between neighbours.
constexpr double k_share_slack = 1e-9;

/// Where the axis meets the triangle; none if it passes by, or from the part's inside.
/// Source: Moeller and Trumbore 1997, from memory: shares of the corners by Cramer's rule.
std::optional<double> down_axis(const Vector3d& at, const Vector3d& axis, const Vector3d& a, const Vector3d& b,
                                const Vector3d& c) {
    const Vector3d normal = (b - a).cross(c - a);
    const double steepness = -axis.dot(normal);
    if (!(steepness > 0.0)) {
        return std::nullopt;
    }
    const Vector3d from_a = at - a;
    const Vector3d across = from_a.cross(axis);
    const double share_b = (c - a).dot(across) / steepness;
    const double share_c = -(b - a).dot(across) / steepness;
    if (share_b < -k_share_slack || share_c < -k_share_slack || share_b + share_c > 1.0 + k_share_slack) {
        return std::nullopt;
    }
    return from_a.dot(normal) / steepness;
}

}  // namespace

std::optional<MeshLanding> mesh_landing(const Mount& mount, const geometry::Mesh& mesh) {
    const Vector3d at = in_mm(mount.at);
    std::optional<MeshLanding> best;
    for (const geometry::Triangle& triangle : mesh.triangles) {
        const Vector3d& a = mesh.points[static_cast<std::size_t>(triangle[0])];
        const Vector3d& b = mesh.points[static_cast<std::size_t>(triangle[1])];
        const Vector3d& c = mesh.points[static_cast<std::size_t>(triangle[2])];
        const auto down = down_axis(at, mount.axis, a, b, c);
        if (down && *down >= -k_look_back_mm && *down <= k_look_ahead_mm &&
            (!best || std::abs(*down) < std::abs(best->down_axis_mm))) {
            best = MeshLanding{at + *down * mount.axis, (b - a).cross(c - a).normalized(), *down};
        }
    }
    return best;
}

}  // namespace sillwright::core
