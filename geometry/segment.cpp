#include "geometry/segment.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace sillwright::geometry {

namespace {

using Eigen::Vector2d;

constexpr double k_full_turn = 2.0 * std::numbers::pi;

Vector2d unit_vector(double angle) {
    return {std::cos(angle), std::sin(angle)};
}

double angle_at(const ArcSegment& arc, double fraction) {
    return in_rad(arc.start) + fraction * in_rad(arc.sweep);
}

Vector2d point_of(const LineSegment& line, double fraction) {
    // The ends come out exactly, whatever the rounding in between.
    return fraction == 1.0 ? line.to : Vector2d{line.from + fraction * (line.to - line.from)};
}

Vector2d point_of(const ArcSegment& arc, double fraction) {
    return arc.centre + arc.radius_mm * unit_vector(angle_at(arc, fraction));
}

Vector2d direction_of(const LineSegment& line, double) {
    return (line.to - line.from).normalized();
}

Vector2d direction_of(const ArcSegment& arc, double fraction) {
    const Vector2d outward = unit_vector(angle_at(arc, fraction));
    const Vector2d anticlockwise{-outward.y(), outward.x()};
    return in_rad(arc.sweep) > 0.0 ? anticlockwise : Vector2d{-anticlockwise};
}

double length_of(const LineSegment& line) {
    return (line.to - line.from).norm();
}
double length_of(const ArcSegment& arc) {
    return arc.radius_mm * std::abs(in_rad(arc.sweep));
}

double nearest_on(const LineSegment& line, const Vector2d& p) {
    const Vector2d along = line.to - line.from;
    const double square = along.squaredNorm();
    return square > 0.0 ? std::clamp((p - line.from).dot(along) / square, 0.0, 1.0) : 0.0;
}

double nearest_on(const ArcSegment& arc, const Vector2d& p) {
    const double sweep = in_rad(arc.sweep);
    const Vector2d ray = p - arc.centre;
    double turn = std::remainder(std::atan2(ray.y(), ray.x()) - in_rad(arc.start), k_full_turn);
    turn = sweep > 0.0 ? turn : -turn;
    turn = turn < 0.0 ? turn + k_full_turn : turn;
    const double size = std::abs(sweep);
    if (turn <= size) {
        return turn / size;
    }
    return turn - size < k_full_turn - turn ? 1.0 : 0.0;
}

LineSegment part(const LineSegment& line, double from, double to) {
    return {point_of(line, from), point_of(line, to)};
}

ArcSegment part(const ArcSegment& arc, double from, double to) {
    return {arc.centre, arc.radius_mm, radians(angle_at(arc, from)), (to - from) * arc.sweep};
}

LineSegment turned_round(const LineSegment& line) {
    return {line.to, line.from};
}

ArcSegment turned_round(const ArcSegment& arc) {
    return {arc.centre, arc.radius_mm, arc.start + arc.sweep, -arc.sweep};
}

}  // namespace

Vector2d start_point(const Segment& segment) {
    return point_at(segment, 0.0);
}

Vector2d end_point(const Segment& segment) {
    return point_at(segment, 1.0);
}

Vector2d point_at(const Segment& segment, double fraction) {
    return std::visit([&](const auto& shape) { return point_of(shape, fraction); }, segment.shape);
}

Vector2d direction_at(const Segment& segment, double fraction) {
    return std::visit([&](const auto& shape) { return direction_of(shape, fraction); }, segment.shape);
}

Length length(const Segment& segment) {
    return millimetres(std::visit([](const auto& shape) { return length_of(shape); }, segment.shape));
}

double nearest_fraction(const Segment& segment, const Vector2d& p_mm) {
    return std::visit([&](const auto& shape) { return nearest_on(shape, p_mm); }, segment.shape);
}

Length distance_to(const Segment& segment, const Vector2d& p_mm) {
    return millimetres((point_at(segment, nearest_fraction(segment, p_mm)) - p_mm).norm());
}

Segment part_of(const Segment& segment, double from, double to) {
    return std::visit([&](const auto& shape) { return Segment{part(shape, from, to), segment.node}; }, segment.shape);
}

Segment reversed(const Segment& segment) {
    return std::visit([&](const auto& shape) { return Segment{turned_round(shape), segment.node}; }, segment.shape);
}

}  // namespace sillwright::geometry
