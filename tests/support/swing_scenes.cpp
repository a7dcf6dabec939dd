#include "tests/support/swing_scenes.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace sillwright::tests {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::Mesh;

Mesh swept(const std::vector<Vector2d>& ring, double from_x, double to_x, int rows,
           const std::function<Vector2d(double)>& shift) {
    Mesh mesh;
    const auto n = static_cast<std::int32_t>(ring.size());
    for (int row = 0; row < rows; ++row) {
        const double x = from_x + (to_x - from_x) * row / (rows - 1);
        const Vector2d by = shift(x);
        for (const Vector2d& p : ring) {
            mesh.points.emplace_back(x, p.x() + by.x(), p.y() + by.y());
        }
    }
    const auto quad = [&mesh](std::int32_t a, std::int32_t b, std::int32_t c, std::int32_t d) {
        mesh.triangles.push_back({a, b, c});
        mesh.triangles.push_back({a, c, d});
    };
    for (std::int32_t row = 0; row + 1 < rows; ++row) {
        for (std::int32_t i = 0; i < n; ++i) {
            const std::int32_t j = (i + 1) % n;
            quad(row * n + i, (row + 1) * n + i, (row + 1) * n + j, row * n + j);
        }
    }
    for (std::int32_t i = 1; i + 1 < n; ++i) {
        mesh.triangles.push_back({0, i, i + 1});
        const std::int32_t last = (rows - 1) * n;
        mesh.triangles.push_back({last, last + i + 1, last + i});
    }
    if (geometry::volume_mm3(mesh) < 0.0) {
        for (auto& t : mesh.triangles) {
            std::swap(t[1], t[2]);
        }
    }
    return mesh;
}

std::vector<Vector2d> refined(const std::vector<Vector2d>& polygon, int count) {
    double length = 0.0;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        length += (polygon[(i + 1) % polygon.size()] - polygon[i]).norm();
    }
    std::vector<Vector2d> ring;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vector2d& a = polygon[i];
        const Vector2d& b = polygon[(i + 1) % polygon.size()];
        const int parts = std::max(1, static_cast<int>(std::lround(count * (b - a).norm() / length)));
        for (int k = 0; k < parts; ++k) {
            ring.emplace_back(a + (b - a) * k / parts);
        }
    }
    return ring;
}

namespace {

using geometry::degrees;

constexpr int k_ring = 100;
constexpr int k_rows = 500;

int scaled(int count, double part) {
    return std::max(4, static_cast<int>(std::lround(count * std::sqrt(part))));
}

/// The lower part of a door 1.1 m long: a slab whose hem is round about (0, `bottom` + 6).
std::vector<Vector2d> door_ring(double bottom, int count) {
    std::vector<Vector2d> polygon{{6.0, bottom + 120.0}, {-34.0, bottom + 120.0}, {-34.0, bottom + 30.0}};
    for (int i = 0; i <= 24; ++i) {
        const double a = -std::numbers::pi + std::numbers::pi * i / 24.0;
        polygon.emplace_back(6.0 * std::cos(a), bottom + 6.0 + 6.0 * std::sin(a));
    }
    return refined(polygon, count);
}

geometry::HingeMotion hinge(double inward_deg, double forward_deg) {
    geometry::HingeMotion motion;
    motion.axis_point_mm = {0.0, -15.0, 420.0};
    motion.axis_direction =
        Vector3d(std::tan(forward_deg * std::numbers::pi / 180.0), std::tan(inward_deg * std::numbers::pi / 180.0), 1.0)
            .normalized();
    motion.opening = degrees(70.0);
    return motion;
}

}  // namespace

SwingScene clear_scene(double part) {
    SwingScene scene;
    // A shelf with a bead at its outer edge, over which the hem passes.
    const std::vector<Vector2d> skirt{{-60.0, 100.0}, {60.0, 99.0},   {85.0, 101.0}, {98.0, 104.0}, {110.0, 103.0},
                                      {120.0, 92.0},  {112.0, -20.0}, {96.0, -32.0}, {20.0, -34.0}, {20.0, -30.0},
                                      {90.0, -28.0},  {106.0, 88.0},  {85.0, 97.0},  {-60.0, 96.0}};
    // The skirt has its crown 600 mm behind the hinge.
    scene.fixed = swept(refined(skirt, scaled(k_ring, part)), -200.0, 1800.0, scaled(k_rows, part), [](double x) {
        const double from_crown = (x - 600.0) / 250.0;
        return Vector2d(-1.2e-5 * (x - 800.0) * (x - 800.0), 3.0 * std::exp(-from_crown * from_crown));
    });
    scene.moving = swept(door_ring(116.0, scaled(k_ring, part)), 60.0, 1100.0, scaled(k_rows, part),
                         [](double x) { return Vector2d(-1.2e-5 * (x - 800.0) * (x - 800.0), 0.0); });
    scene.motion = hinge(2.6, 0.4);
    return scene;
}

SwingScene glide_scene(double part) {
    SwingScene scene;
    // A shelf wide enough for the whole swing; it falls 2 degrees outward and curves 6 mm along 2 m.
    const double fall = std::tan(2.0 * std::numbers::pi / 180.0);
    const std::vector<Vector2d> shelf{
        {-60.0, 60.0 * fall}, {1200.0, -1200.0 * fall}, {1200.0, -1200.0 * fall - 3.0}, {-60.0, 60.0 * fall - 3.0}};
    const auto curve = [](double x) { return Vector2d(0.0, 6e-6 * (x - 800.0) * (x - 800.0)); };
    scene.fixed = swept(refined(shelf, scaled(k_ring, part)), -200.0, 1800.0, scaled(k_rows, part), curve);
    const std::vector<Vector2d> hem{{20.0, 5.0 - 20.0 * fall}, {20.0, 125.0}, {0.0, 125.0}, {0.0, 5.0}};
    scene.moving = swept(refined(hem, scaled(k_ring, part)), 60.0, 1100.0, scaled(k_rows, part), curve);
    scene.motion = hinge(1.4, 0.0);
    return scene;
}

SwingScene level_glide_scene(double part) {
    SwingScene scene;
    const std::vector<Vector2d> shelf{{-60.0, 0.0}, {1200.0, 0.0}, {1200.0, -3.0}, {-60.0, -3.0}};
    const auto straight = [](double) { return Vector2d(0.0, 0.0); };
    scene.fixed = swept(refined(shelf, scaled(k_ring, part)), -200.0, 1800.0, scaled(k_rows, part), straight);
    const std::vector<Vector2d> hem{{20.0, 5.0}, {20.0, 125.0}, {0.0, 125.0}, {0.0, 5.0}};
    scene.moving = swept(refined(hem, scaled(k_ring, part)), 60.0, 1100.0, scaled(k_rows, part), straight);
    scene.motion = hinge(0.0, 0.0);
    return scene;
}

Mesh point_mesh(const Vector3d& p) {
    return {{p}, {{0, 0, 0}}, {}};
}
Mesh edge_mesh(const Vector3d& a, const Vector3d& b) {
    return {{a, b}, {{0, 1, 1}}, {}};
}
Mesh triangle_mesh(const Vector3d& a, const Vector3d& b, const Vector3d& c) {
    return {{a, b, c}, {{0, 1, 2}}, {}};
}

Mesh box_mesh(const Vector3d& low, const Vector3d& high) {
    const std::vector<Vector2d> ring{
        {low.y(), low.z()}, {high.y(), low.z()}, {high.y(), high.z()}, {low.y(), high.z()}};
    return swept(ring, low.x(), high.x(), 2, [](double) { return Vector2d(0.0, 0.0); });
}

}  // namespace sillwright::tests
