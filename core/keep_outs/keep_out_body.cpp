#include "core/keep_outs/keep_out_body.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <utility>

#include "core/sill_frame.h"

namespace sillwright::core {

using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Mesh;
using geometry::millimetres;

namespace {

/// No round is drawn with fewer sides, however small it is.
constexpr std::int32_t k_fewest_sides = 12;

/// Sides of a polygon about a circle that stands no further off it than allowed.
std::int32_t sides_about(double radius_mm) {
    const double half = std::acos(radius_mm / (radius_mm + k_round_deviation_mm));
    return std::max(k_fewest_sides, static_cast<std::int32_t>(std::ceil(std::numbers::pi / half)));
}

/// A prism about the cylinder from `from` to `to`, its ends flat.
Mesh prism_about(const Vector3d& from, const Vector3d& to, double radius_mm) {
    const Vector3d along = (to - from).normalized();
    const Vector3d u = along.unitOrthogonal();
    const Vector3d v = along.cross(u);
    const std::int32_t n = sides_about(radius_mm);
    const double corner = radius_mm / std::cos(std::numbers::pi / n);
    Mesh mesh;
    mesh.deviation = millimetres(corner - radius_mm);
    for (std::int32_t i = 0; i < n; ++i) {
        const double turn = 2.0 * std::numbers::pi * i / n;
        const Vector3d ray = corner * (std::cos(turn) * u + std::sin(turn) * v);
        mesh.points.emplace_back(from + ray);
        mesh.points.emplace_back(to + ray);
    }
    for (std::int32_t i = 0; i < n; ++i) {
        const std::int32_t a = 2 * i;
        const std::int32_t b = 2 * ((i + 1) % n);
        mesh.triangles.push_back({a, b, b + 1});
        mesh.triangles.push_back({a, b + 1, a + 1});
    }
    for (std::int32_t i = 1; i + 1 < n; ++i) {
        mesh.triangles.push_back({0, 2 * (i + 1), 2 * i});
        mesh.triangles.push_back({1, 2 * i + 1, 2 * (i + 1) + 1});
    }
    return mesh;
}

double least_plane_distance(const Mesh& ball, const Vector3d& centre) {
    double least = std::numeric_limits<double>::infinity();
    for (const geometry::Triangle& t : ball.triangles) {
        const Vector3d& a = ball.points[static_cast<std::size_t>(t[0])];
        const Vector3d normal = (ball.points[static_cast<std::size_t>(t[1])] - a)
                                    .cross(ball.points[static_cast<std::size_t>(t[2])] - a)
                                    .normalized();
        least = std::min(least, normal.dot(a - centre));
    }
    return least;
}

/// A faceted ball about the ball of that radius: made with its corners on it, then widened until every facet is
/// outside.
Mesh ball_about(const Vector3d& centre, double radius_mm) {
    // A facet's corners are at most step / sqrt(2) from its middle, which stands r step^2 / 4 inside them.
    const double step = std::sqrt(4.0 * k_round_deviation_mm / (radius_mm + k_round_deviation_mm));
    const auto rings = std::max(k_fewest_sides / 2, static_cast<std::int32_t>(std::ceil(std::numbers::pi / step)));
    const std::int32_t around = 2 * rings;
    Mesh mesh;
    mesh.points.emplace_back(centre + radius_mm * Vector3d::UnitZ());
    for (std::int32_t r = 1; r < rings; ++r) {
        const double polar = std::numbers::pi * r / rings;
        for (std::int32_t a = 0; a < around; ++a) {
            const double turn = 2.0 * std::numbers::pi * a / around;
            mesh.points.emplace_back(centre + radius_mm * Vector3d(std::sin(polar) * std::cos(turn),
                                                                   std::sin(polar) * std::sin(turn), std::cos(polar)));
        }
    }
    mesh.points.emplace_back(centre - radius_mm * Vector3d::UnitZ());
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
    const double widen = radius_mm / least_plane_distance(mesh, centre);
    for (Vector3d& p : mesh.points) {
        p = centre + widen * (p - centre);
    }
    mesh.deviation = millimetres((widen - 1.0) * radius_mm);
    return mesh;
}

Mesh strip_about(const KeepOut& keep_out, double radius_mm) {
    std::vector<Vector3d> line{in_mm(keep_out.from)};
    for (const Position& corner : keep_out.via) {
        line.push_back(in_mm(corner));
    }
    line.push_back(in_mm(keep_out.to));
    Mesh mesh;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        geometry::append(mesh, prism_about(line[i], line[i + 1], radius_mm));
        if (i > 0) {
            geometry::append(mesh, ball_about(line[i], radius_mm));
        }
    }
    return mesh;
}

Mesh mesh_of(const KeepOut& keep_out) {
    const Vector3d from = in_mm(keep_out.from);
    const Vector3d to = in_mm(keep_out.to);
    switch (keep_out.shape) {
        case KeepOutShape::box:
            return box_between(from, to);
        case KeepOutShape::strip:
            return strip_about(keep_out, in_mm(keep_out.radius->value));
        case KeepOutShape::wheel:
            return prism_about(from, to, in_mm(keep_out.radius->value));
    }
    return {};
}

/// Room for a trolley jack below a pad, and for the pad of a lift's arm: common practice, no source.
constexpr double k_jack_half_along_mm = 60.0, k_jack_half_out_mm = 45.0, k_jack_down_mm = 150.0;
constexpr double k_arm_half_along_mm = 75.0, k_arm_half_out_mm = 30.0, k_arm_down_mm = 150.0;
/// No sill and no skirt stands further out than this from its jacking pad.
constexpr double k_arm_way_mm = 600.0;

/// With its tree; what is wrong with the places is put down as missing.
KeepOutBody body_of(Mesh mesh, const std::string& name) {
    KeepOutBody body;
    body.mesh = std::move(mesh);
    auto tree = geometry::DistanceTree::build(body.mesh);
    if (!tree) {
        body.missing.push_back("places of " + name + " that can be worked with (" + tree.error().message + ")");
        return body;
    }
    body.tree = std::make_shared<const geometry::DistanceTree>(std::move(tree).value());
    body.low_mm = body.high_mm = body.mesh.points.front();
    for (const Vector3d& p : body.mesh.points) {
        body.low_mm = body.low_mm.cwiseMin(p);
        body.high_mm = body.high_mm.cwiseMax(p);
    }
    return body;
}

}  // namespace

Mesh box_between(const Vector3d& low_mm, const Vector3d& high_mm) {
    Mesh mesh;
    for (int i = 0; i < 8; ++i) {
        mesh.points.emplace_back((i & 1) != 0 ? high_mm.x() : low_mm.x(), (i & 2) != 0 ? high_mm.y() : low_mm.y(),
                                 (i & 4) != 0 ? high_mm.z() : low_mm.z());
    }
    mesh.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                      {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    return mesh;
}

KeepOutBody keep_out_body(const KeepOut& keep_out) {
    if (keep_out.shape != KeepOutShape::box && !keep_out.radius) {
        KeepOutBody body;
        body.missing.push_back("the radius of " + keep_out.name);
        return body;
    }
    return body_of(mesh_of(keep_out), keep_out.name);
}

LiftRoom lift_room(const KeepOutBody& pad) {
    const Vector3d middle = 0.5 * (pad.low_mm + pad.high_mm);
    const double face = pad.low_mm.z();
    return {
        body_of(box_between({middle.x() - k_jack_half_along_mm, middle.y() - k_jack_half_out_mm, face - k_jack_down_mm},
                            {middle.x() + k_jack_half_along_mm, middle.y() + k_jack_half_out_mm, face}),
                "the room for a jack"),
        body_of(box_between({middle.x() - k_arm_half_along_mm, middle.y() - k_arm_half_out_mm, face - k_arm_down_mm},
                            {middle.x() + k_arm_half_along_mm, middle.y() + k_arm_way_mm, face}),
                "the way of a lift's arm")};
}

KeepOutBodies keep_out_bodies(const Job& job) {
    KeepOutBodies all{job.keep_outs, {}, {}};
    for (const KeepOut& keep_out : job.keep_outs) {
        all.bodies.push_back(keep_out_body(keep_out));
        const bool lifted_there = keep_out.kind == KeepOutKind::jacking && all.bodies.back().tree != nullptr;
        all.lifts.push_back(lifted_there ? std::optional(lift_room(all.bodies.back())) : std::nullopt);
    }
    return all;
}

}  // namespace sillwright::core
