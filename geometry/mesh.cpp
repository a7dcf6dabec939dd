#include "geometry/mesh.h"

#include <Eigen/Geometry>
#include <algorithm>

namespace sillwright::geometry {

namespace {

const Eigen::Vector3d& corner(const Mesh& mesh, const Triangle& t, int k) {
    return mesh.points[static_cast<std::size_t>(t[static_cast<std::size_t>(k)])];
}

}  // namespace

double volume_mm3(const Mesh& mesh) {
    if (mesh.points.empty()) {
        return 0.0;
    }
    const Eigen::Vector3d base = mesh.points.front();
    double six_volumes = 0.0;
    for (const Triangle& t : mesh.triangles) {
        const Eigen::Vector3d a = corner(mesh, t, 0) - base;
        six_volumes += a.dot((corner(mesh, t, 1) - base).cross(corner(mesh, t, 2) - base));
    }
    return six_volumes / 6.0;
}

double area_mm2(const Mesh& mesh) {
    double twice = 0.0;
    for (const Triangle& t : mesh.triangles) {
        const Eigen::Vector3d& a = corner(mesh, t, 0);
        twice += (corner(mesh, t, 1) - a).cross(corner(mesh, t, 2) - a).norm();
    }
    return twice / 2.0;
}

std::size_t open_edge_count(const Mesh& mesh) {
    // Each directed edge as (low, high, direction); sorted, the two uses of a good edge are neighbours.
    struct Use {
        std::int32_t low, high;
        int direction;
        auto operator<=>(const Use&) const = default;
    };
    std::vector<Use> uses;
    uses.reserve(3 * mesh.triangles.size());
    for (const Triangle& t : mesh.triangles) {
        for (std::size_t k = 0; k < 3; ++k) {
            const auto a = t[k];
            const auto b = t[(k + 1) % 3];
            uses.push_back({std::min(a, b), std::max(a, b), a < b ? 1 : -1});
        }
    }
    std::sort(uses.begin(), uses.end());
    std::size_t open = 0;
    for (std::size_t i = 0; i < uses.size();) {
        std::size_t j = i;
        int balance = 0;
        while (j < uses.size() && uses[j].low == uses[i].low && uses[j].high == uses[i].high) {
            balance += uses[j].direction;
            ++j;
        }
        if (j - i != 2 || balance != 0 || uses[i].low == uses[i].high) {
            ++open;
        }
        i = j;
    }
    return open;
}

void append(Mesh& mesh, const Mesh& other) {
    const auto base = static_cast<std::int32_t>(mesh.points.size());
    mesh.points.insert(mesh.points.end(), other.points.begin(), other.points.end());
    mesh.triangles.reserve(mesh.triangles.size() + other.triangles.size());
    for (const Triangle& t : other.triangles) {
        mesh.triangles.push_back({t[0] + base, t[1] + base, t[2] + base});
    }
    mesh.deviation = std::max(mesh.deviation, other.deviation);
}

Mesh mirrored_y(const Mesh& mesh) {
    Mesh image = mesh;
    for (Eigen::Vector3d& p : image.points) {
        p.y() = -p.y();
    }
    for (Triangle& t : image.triangles) {
        std::swap(t[1], t[2]);
    }
    return image;
}

}  // namespace sillwright::geometry
