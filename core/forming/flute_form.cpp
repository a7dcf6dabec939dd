#include "core/forming/flute_form.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "geometry/flute_thinning.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Angle;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::millimetres;
using geometry::radians;

namespace {

/// Points on each rounding of the bottom: its chords lie off it by less than half a hundredth of its radius.
constexpr int k_round_points = 8;
/// A width within this of a single rounding's is meant as one.
constexpr double k_single_mm = 1.0;

double chord(double radius, double depth) {
    return 2.0 * std::sqrt(std::max(0.0, depth * (2.0 * radius - depth)));
}

/// What the sheet takes of a groove's width, at both sides together.
Length taken(const GrooveSection& section, Length thickness) {
    return 2.0 * std::tan(in_rad(mouth_angle(section)) / 2.0) * thickness;
}

/// From mouth to mouth: inward along the surface, and out of it. The bottom lies below zero.
std::vector<Vector2d> outline(const GrooveSection& section) {
    const double half = in_mm(section.width) / 2.0;
    const double depth = in_mm(section.depth);
    const double radius = in_mm(section.bottom_radius);
    const double turned = in_rad(mouth_angle(section));
    std::vector<Vector2d> points{{-half, 0.0}};
    for (const double side : {-1.0, 1.0}) {
        for (int k = 0; k <= k_round_points; ++k) {
            // From the wall's end to the floor, and back up at the other side.
            const double angle = turned * (side < 0.0 ? k_round_points - k : k) / k_round_points;
            const double beside = half - radius * (std::sin(turned) - std::sin(angle));
            const double up = -depth + radius * (1.0 - std::cos(angle));
            points.emplace_back(side * std::max(0.0, beside), std::min(0.0, up));
        }
    }
    points.emplace_back(half, 0.0);
    return points;
}

}  // namespace

Angle mouth_angle(const GrooveSection& drawn) {
    if (drawn.bottom_radius > drawn.depth) {
        return radians(std::acos(1.0 - drawn.depth / drawn.bottom_radius));
    }
    return radians(std::numbers::pi / 2.0);
}

GrooveFaces groove_faces(const GrooveSection& drawn, DrawnFace face, MouldKind mould, Length thickness) {
    GrooveFaces faces;
    const Length by = taken(drawn, thickness);
    const bool inside = face == DrawnFace::inside;
    const Length inner_width = inside ? drawn.width : drawn.width + by;
    const Length inner_radius = inside ? drawn.bottom_radius : drawn.bottom_radius + thickness;
    faces.seen_width = std::max(Length{}, inside ? drawn.width - by : drawn.width);
    faces.seen_radius = inside ? std::max(Length{}, drawn.bottom_radius - thickness) : drawn.bottom_radius;
    const bool male = mould == MouldKind::male;
    faces.mould = {male ? inner_width : faces.seen_width, drawn.depth, male ? inner_radius : faces.seen_radius};
    return faces;
}

GrooveSection drawn_for_mould(const GrooveSection& mould, DrawnFace face, MouldKind kind, Length thickness) {
    if ((kind == MouldKind::male) == (face == DrawnFace::inside)) {
        return mould;
    }
    GrooveSection drawn = mould;
    const bool male = kind == MouldKind::male;
    drawn.bottom_radius = male ? std::max(Length{}, mould.bottom_radius - thickness) : mould.bottom_radius + thickness;
    const Length by = taken(drawn, thickness);
    drawn.width = male ? std::max(Length{}, mould.width - by) : mould.width + by;
    return drawn;
}

Length bottom_thickness(const GrooveSection& mould, MouldKind kind, Length thickness) {
    if (kind == MouldKind::female || !(mould.width > Length{}) || !(mould.depth > Length{})) {
        return thickness;
    }
    const auto shares = geometry::groove_shares(
        {mould.width, mould.depth, std::max(mould.bottom_radius, thickness), radians(std::numbers::pi / 2.0)});
    return std::min(shares.middle, shares.corner) * thickness;
}

Length groove_undercut(const GrooveSection& mould, const Vector2d& draw) {
    // Run through the way that the part leaves, square to the draw direction a surface that lets go never comes back.
    std::vector<Vector2d> points = outline(mould);
    const bool inward = draw.x() > 0.0;
    if (!inward) {
        std::reverse(points.begin(), points.end());
    }
    const Vector2d off = inward ? Vector2d(-draw.y(), draw.x()) : Vector2d(draw.y(), -draw.x());
    double lowest = points.front().dot(off);
    double most = 0.0;
    for (const Vector2d& p : points) {
        lowest = std::min(lowest, p.dot(off));
        most = std::max(most, p.dot(off) - lowest);
    }
    return millimetres(most);
}

GrooveSection with_depth(const GrooveSection& section, Length depth) {
    GrooveSection changed = section;
    changed.depth = depth;
    const double radius = in_mm(section.bottom_radius);
    if (section.bottom_radius > section.depth &&
        std::abs(chord(radius, in_mm(section.depth)) - in_mm(section.width)) <= k_single_mm) {
        changed.width = millimetres(chord(radius, std::min(radius, in_mm(depth))));
    }
    return changed;
}

}  // namespace sillwright::core
