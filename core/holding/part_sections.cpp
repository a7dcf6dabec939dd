#include "core/holding/part_sections.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <utility>
#include <variant>

#include "core/skirt/fluted_section.h"
#include "core/skirt/surface.h"
#include "geometry/sheet_section.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::AreaMoments;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::Profile;

namespace {

/// Cuts nearer than this are one.
constexpr double k_same_cut_mm = 0.01;

/// Greatest of a direction's component over an outline, arcs included.
double furthest(const std::vector<Profile>& outline, const Vector2d& direction) {
    double most = -std::numeric_limits<double>::infinity();
    const double towards = std::atan2(direction.y(), direction.x());
    for (const Profile& profile : outline) {
        for (const geometry::Segment& segment : profile.segments) {
            most = std::max(most, direction.dot(start_point(segment)));
            if (const auto* arc = std::get_if<geometry::ArcSegment>(&segment.shape)) {
                const double sweep = in_rad(arc->sweep);
                double turn = std::remainder(towards - in_rad(arc->start), 2.0 * std::numbers::pi);
                if (turn * sweep < 0.0) {
                    turn += std::copysign(2.0 * std::numbers::pi, sweep);
                }
                if (std::abs(turn) <= std::abs(sweep)) {
                    most = std::max(most, direction.dot(arc->centre) + arc->radius_mm * direction.norm());
                }
            }
        }
    }
    return most;
}

/// Moment for a stress of one at the worst place, where stress is moment · (places from the centroid · gradient).
double modulus(const AreaMoments& moments, const std::vector<Profile>& outline, const Vector2d& gradient) {
    const double middle = gradient.dot(moments.centroid_mm);
    return 1.0 / std::max(furthest(outline, gradient) - middle, furthest(outline, -gradient) + middle);
}

}  // namespace

BendingNumbers bending_down(const AreaMoments& m, const std::vector<Profile>& outline) {
    const double det = m.xx_mm4 * m.yy_mm4 - m.xy_mm4 * m.xy_mm4;
    return {det / m.yy_mm4, modulus(m, outline, Vector2d{-m.xy_mm4, m.yy_mm4} / det), -m.xy_mm4 / m.yy_mm4};
}

BendingNumbers bending_across(const AreaMoments& m, const std::vector<Profile>& outline) {
    const double det = m.xx_mm4 * m.yy_mm4 - m.xy_mm4 * m.xy_mm4;
    return {det / m.xx_mm4, modulus(m, outline, Vector2d{m.xx_mm4, -m.xy_mm4} / det), -m.xy_mm4 / m.xx_mm4};
}

geometry::Result<PartSection> part_section(const Piece& piece, const geometry::Loft& line, Length along,
                                           Flutes flutes) {
    const auto faces = sheet_faces(piece);
    assert(faces);
    const auto lead = [&](const geometry::Error& error) {
        return geometry::Error{error.code, "At " + line.place(along) + ": " + error.message};
    };
    auto nodes = flutes == Flutes::cut ? fluted_nodes(piece, line, along)
                                       : geometry::Result<std::vector<geometry::ProfileNode>>(line.nodes_at(along));
    if (!nodes) {
        return nodes.error();
    }
    const auto profile = geometry::make_profile(nodes.value(), false);
    if (!profile) {
        return lead(profile.error());
    }
    const auto outline = geometry::sheet_outline(profile.value(), *faces);
    if (!outline) {
        return lead(outline.error());
    }
    const auto moments = geometry::area_moments(outline.value());
    if (!moments) {
        return lead(moments.error());
    }
    const auto& region = outline.value();
    PartSection section{along, along, moments.value(), {}, {}, {}, {}};
    section.high_mm = {furthest(region, Vector2d::UnitX()), furthest(region, Vector2d::UnitY())};
    section.low_mm = {-furthest(region, -Vector2d::UnitX()), -furthest(region, -Vector2d::UnitY())};
    section.down = bending_down(section.moments, region);
    section.across = bending_across(section.moments, region);
    return section;
}

geometry::Result<std::vector<PartSection>> part_sections(const Piece& piece, const geometry::Loft& line,
                                                         std::vector<Length> cuts) {
    for (const Flute& flute : piece.flutes) {
        for (const auto& end : {flute.front, flute.rear}) {
            if (end) {
                cuts.push_back(end->value);
            }
        }
    }
    cuts.push_back(line.front());
    cuts.push_back(line.rear());
    for (Length& cut : cuts) {
        cut = std::clamp(cut, line.front(), line.rear());
    }
    std::sort(cuts.begin(), cuts.end());
    std::vector<PartSection> sections;
    Length from = cuts.front();
    for (std::size_t i = 1; i < cuts.size(); ++i) {
        const bool last = i + 1 == cuts.size();
        if (in_mm(cuts[i] - from) < k_same_cut_mm || (!last && in_mm(cuts.back() - cuts[i]) < k_same_cut_mm)) {
            continue;
        }
        auto section = part_section(piece, line, from + 0.5 * (cuts[i] - from));
        if (!section) {
            return section.error();
        }
        sections.push_back(std::move(section).value());
        sections.back().from = from;
        sections.back().to = cuts[i];
        from = cuts[i];
    }
    return sections;
}

}  // namespace sillwright::core
