#include "geometry/disc_area.h"

#include <algorithm>
#include <cmath>

namespace sillwright::geometry {

using Eigen::Vector2d;

namespace {

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

/// Signed area of the sector from `a` round to `b`, about the origin.
double sector(const Vector2d& a, const Vector2d& b, double radius) {
    return 0.5 * radius * radius * std::atan2(cross(a, b), a.dot(b));
}

/// Signed area, within the circle about the origin, of the triangle between it and an edge.
double beside_edge(const Vector2d& a, const Vector2d& b, double radius) {
    const Vector2d way = b - a;
    const double length_squared = way.squaredNorm();
    if (length_squared <= 0.0) {
        return 0.0;
    }
    // Where the edge's straight comes nearest to the origin, and how far it is inside the circle before and after.
    const double nearest = -a.dot(way) / length_squared;
    const double off = cross(a, b);
    const double inside = radius * radius - off * off / length_squared;
    if (inside <= 0.0) {
        return sector(a, b, radius);
    }
    const double half = std::sqrt(inside / length_squared);
    const double from = std::clamp(nearest - half, 0.0, 1.0);
    const double to = std::clamp(nearest + half, 0.0, 1.0);
    const Vector2d in = a + from * way;
    const Vector2d out = a + to * way;
    return (from > 0.0 ? sector(a, in, radius) : 0.0) + 0.5 * cross(in, out) +
           (to < 1.0 ? sector(out, b, radius) : 0.0);
}

}  // namespace

double disc_over_polygon_mm2(const std::vector<Vector2d>& polygon_mm, const Vector2d& centre_mm, Length radius) {
    if (polygon_mm.size() < 3) {
        return 0.0;
    }
    double area = 0.0;
    for (std::size_t i = 0; i < polygon_mm.size(); ++i) {
        area +=
            beside_edge(polygon_mm[i] - centre_mm, polygon_mm[(i + 1) % polygon_mm.size()] - centre_mm, in_mm(radius));
    }
    return std::abs(area);
}

}  // namespace sillwright::geometry
