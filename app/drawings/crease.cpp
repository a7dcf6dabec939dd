#include "app/drawings/crease.h"

#include <Eigen/Geometry>
#include <cmath>

namespace sillwright::app {

namespace {

/// A triangle's area vector, twice its area long.
std::vector<Eigen::Vector3d> area_vectors(const geometry::Mesh& mesh) {
    std::vector<Eigen::Vector3d> vectors;
    vectors.reserve(mesh.triangles.size());
    const auto point = [&](std::int32_t i) -> const Eigen::Vector3d& {
        return mesh.points[static_cast<std::size_t>(i)];
    };
    for (const geometry::Triangle& t : mesh.triangles) {
        vectors.push_back((point(t[1]) - point(t[0])).cross(point(t[2]) - point(t[0])));
    }
    return vectors;
}

/// The triangles at every point of the mesh.
std::vector<std::vector<std::size_t>> triangles_at_points(const geometry::Mesh& mesh) {
    std::vector<std::vector<std::size_t>> at(mesh.points.size());
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        for (const std::int32_t corner : mesh.triangles[i]) {
            at[static_cast<std::size_t>(corner)].push_back(i);
        }
    }
    return at;
}

/// Sum of the area vectors that lean from `own` by less than the crease.
Eigen::Vector3d normal_beside(const Eigen::Vector3d& own, const std::vector<std::size_t>& neighbours,
                              const std::vector<Eigen::Vector3d>& areas, double crease_cosine) {
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (const std::size_t i : neighbours) {
        if (areas[i].dot(own) > crease_cosine * areas[i].norm() * own.norm()) {
            sum += areas[i];
        }
    }
    return sum.norm() > 0.0 ? Eigen::Vector3d(sum.normalized()) : Eigen::Vector3d::UnitZ();
}

}  // namespace

ShadedMesh shaded(const geometry::Mesh& mesh, geometry::Angle crease) {
    const std::vector<Eigen::Vector3d> areas = area_vectors(mesh);
    const std::vector<std::vector<std::size_t>> at = triangles_at_points(mesh);
    const double crease_cosine = std::cos(geometry::in_rad(crease));
    ShadedMesh result;
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        geometry::Triangle corners{};
        for (std::size_t k = 0; k < 3; ++k) {
            const auto point = static_cast<std::size_t>(mesh.triangles[i][k]);
            corners[k] = static_cast<std::int32_t>(result.points.size());
            result.points.push_back(mesh.points[point]);
            result.normals.push_back(normal_beside(areas[i], at[point], areas, crease_cosine));
        }
        result.triangles.push_back(corners);
    }
    return result;
}

}  // namespace sillwright::app
