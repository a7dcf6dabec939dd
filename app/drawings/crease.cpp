#include "app/drawings/crease.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace sillwright::app {

namespace {

using Eigen::Vector3d;

/// A triangle's area vector, twice its area long.
std::vector<Vector3d> area_vectors(const geometry::Mesh& mesh) {
    std::vector<Vector3d> vectors;
    vectors.reserve(mesh.triangles.size());
    const auto point = [&](std::int32_t i) -> const Vector3d& { return mesh.points[static_cast<std::size_t>(i)]; };
    for (const geometry::Triangle& t : mesh.triangles) {
        vectors.push_back((point(t[1]) - point(t[0])).cross(point(t[2]) - point(t[0])));
    }
    return vectors;
}

/// The triangles at every point of a mesh, in one list: those of point i stand from first[i] to first[i + 1].
struct TrianglesAtPoints {
    std::vector<std::size_t> first, triangles;

    explicit TrianglesAtPoints(const geometry::Mesh& mesh)
        : first(mesh.points.size() + 1), triangles(3 * mesh.triangles.size()) {
        for (const geometry::Triangle& t : mesh.triangles) {
            for (const std::int32_t corner : t) {
                ++first[static_cast<std::size_t>(corner) + 1];
            }
        }
        for (std::size_t i = 1; i < first.size(); ++i) {
            first[i] += first[i - 1];
        }
        std::vector<std::size_t> next(first.begin(), first.end() - 1);
        for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
            for (const std::int32_t corner : mesh.triangles[i]) {
                triangles[next[static_cast<std::size_t>(corner)]++] = i;
            }
        }
    }
};

bool leans_less(const Vector3d& a, const Vector3d& b, double crease_cosine) {
    return a.dot(b) > crease_cosine * a.norm() * b.norm();
}

/// Sum of the area vectors at a point that lean from `own` by less than the crease.
Vector3d normal_beside(const Vector3d& own, const TrianglesAtPoints& at, std::size_t point,
                       const std::vector<Vector3d>& areas, double crease_cosine) {
    Vector3d sum = Vector3d::Zero();
    for (std::size_t i = at.first[point]; i < at.first[point + 1]; ++i) {
        if (const Vector3d& area = areas[at.triangles[i]]; leans_less(area, own, crease_cosine)) {
            sum += area;
        }
    }
    return sum.norm() > 0.0 ? Vector3d(sum.normalized()) : Vector3d::UnitZ();
}

}  // namespace

ShadedMesh shaded(const geometry::Mesh& mesh, geometry::Angle crease) {
    const std::vector<Vector3d> areas = area_vectors(mesh);
    const TrianglesAtPoints at(mesh);
    const double crease_cosine = std::cos(geometry::in_rad(crease));
    constexpr std::int32_t none = -1;
    std::vector<std::int32_t> last_of(mesh.points.size(), none);  // the last made for a point of the mesh
    std::vector<std::int32_t> before;                             // the one made before for the same point
    ShadedMesh result;
    result.triangles.reserve(mesh.triangles.size());
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        geometry::Triangle corners{};
        for (std::size_t k = 0; k < 3; ++k) {
            const auto point = static_cast<std::size_t>(mesh.triangles[i][k]);
            const Vector3d normal = normal_beside(areas[i], at, point, areas, crease_cosine);
            std::int32_t same = last_of[point];
            while (same != none && result.normals[static_cast<std::size_t>(same)] != normal) {
                same = before[static_cast<std::size_t>(same)];
            }
            if (same == none) {
                same = static_cast<std::int32_t>(result.points.size());
                result.points.push_back(mesh.points[point]);
                result.normals.push_back(normal);
                before.push_back(last_of[point]);
                last_of[point] = same;
            }
            corners[k] = same;
        }
        result.triangles.push_back(corners);
    }
    return result;
}

std::vector<std::array<std::int32_t, 2>> sharp_edges(const geometry::Mesh& mesh, geometry::Angle crease) {
    struct Side {
        std::array<std::int32_t, 2> edge;
        std::size_t triangle;
    };
    const std::vector<Vector3d> areas = area_vectors(mesh);
    std::vector<Side> sides;
    sides.reserve(3 * mesh.triangles.size());
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        if (areas[i].squaredNorm() > 0.0) {
            const geometry::Triangle& t = mesh.triangles[i];
            for (std::size_t k = 0; k < 3; ++k) {
                const std::int32_t a = t[k];
                const std::int32_t b = t[(k + 1) % 3];
                sides.push_back({{std::min(a, b), std::max(a, b)}, i});
            }
        }
    }
    std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) { return a.edge < b.edge; });
    const double crease_cosine = std::cos(geometry::in_rad(crease));
    std::vector<std::array<std::int32_t, 2>> sharp;
    for (std::size_t i = 0; i < sides.size();) {
        std::size_t end = i;
        while (end < sides.size() && sides[end].edge == sides[i].edge) {
            ++end;
        }
        if (end - i != 2 || !leans_less(areas[sides[i].triangle], areas[sides[i + 1].triangle], crease_cosine)) {
            sharp.push_back(sides[i].edge);
        }
        i = end;
    }
    return sharp;
}

}  // namespace sillwright::app
