#include "geometry/segment_intersection.h"

#include <algorithm>
#include <cmath>

namespace sillwright::geometry {

namespace {

using Eigen::Vector2d;

/// Below this sine two lines are parallel: their crossing, if any, is 1000 km
/// away for lines 1 micrometre apart. What they share is found by their ends.
constexpr double k_parallel_sine = 1e-12;
/// Circles with centres this near are concentric: they share all or nothing.
constexpr double k_concentric_mm = 1e-12;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

using Points = std::vector<Vector2d>;

/// Crossings of the endless lines.
Points carrier_crossings(const LineSegment& a, const LineSegment& b, double) {
    const Vector2d u = (a.to - a.from).normalized();
    const Vector2d v = (b.to - b.from).normalized();
    const double sine = cross(u, v);
    if (std::abs(sine) < k_parallel_sine) {
        return {};
    }
    return {a.from + (cross(b.from - a.from, v) / sine) * u};
}

/// The two points at `middle` plus and minus the root of `square` along the unit
/// vector `along`; one where they touch or miss by no more than the slack.
Points pair_about(const Vector2d& middle, const Vector2d& along, double square, bool within_slack) {
    if (square > 0.0) {
        const Vector2d half = std::sqrt(square) * along;
        return {middle - half, middle + half};
    }
    return within_slack ? Points{middle} : Points{};
}

/// Crossings of the endless line and the full circle.
Points carrier_crossings(const LineSegment& line, const ArcSegment& arc, double slack) {
    const Vector2d u = (line.to - line.from).normalized();
    const Vector2d foot = line.from + (arc.centre - line.from).dot(u) * u;
    const double height = std::abs(cross(u, arc.centre - line.from));
    const double r = arc.radius_mm;
    return pair_about(foot, u, (r - height) * (r + height), height - r <= slack);
}

Points carrier_crossings(const ArcSegment& arc, const LineSegment& line, double slack) {
    return carrier_crossings(line, arc, slack);
}

/// Crossings of the full circles.
Points carrier_crossings(const ArcSegment& a, const ArcSegment& b, double slack) {
    const Vector2d apart = b.centre - a.centre;
    const double distance = apart.norm();
    if (distance < k_concentric_mm) {
        return {};
    }
    const double difference = (a.radius_mm - b.radius_mm) * (a.radius_mm + b.radius_mm);
    const double to_chord = (distance + difference / distance) / 2.0;
    const Vector2d u = apart / distance;
    const double miss = std::max(distance - a.radius_mm - b.radius_mm, std::abs(a.radius_mm - b.radius_mm) - distance);
    const double r = a.radius_mm;
    return pair_about(a.centre + to_chord * u, {-u.y(), u.x()}, (r - to_chord) * (r + to_chord), miss <= slack);
}

}  // namespace

std::vector<Vector2d> meeting_points(const Segment& a, const Segment& b, Length slack) {
    Points candidates = std::visit([&](const auto& p, const auto& q) { return carrier_crossings(p, q, in_mm(slack)); },
                                   a.shape, b.shape);
    candidates.insert(candidates.end(), {start_point(a), end_point(a), start_point(b), end_point(b)});
    std::erase_if(candidates,
                  [&](const Vector2d& p) { return distance_to(a, p) > slack || distance_to(b, p) > slack; });
    return candidates;
}

}  // namespace sillwright::geometry
