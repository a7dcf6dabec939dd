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
#include "geometry/varying_parallel.h"

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

/// Places along a section nearer than this are one.
constexpr double k_same_face_mm = 1e-6;

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

/// Marks of a section's nodes, those of its flutes too: these lie between their neighbours in the loft.
std::vector<double> marks_of(const std::vector<geometry::ProfileNode>& nodes,
                             const std::vector<geometry::ProfileNode>& drawn) {
    std::vector<double> marks(nodes.size());
    std::size_t next = 0;  // Of the loft's nodes, the first that has not come yet.
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        if (next < drawn.size() && nodes[i].p_mm == drawn[next].p_mm) {
            marks[i] = static_cast<double>(next++);
            continue;
        }
        assert(next > 0 && next < drawn.size());
        const Vector2d way = drawn[next].p_mm - drawn[next - 1].p_mm;
        const double part = (nodes[i].p_mm - drawn[next - 1].p_mm).dot(way) / way.squaredNorm();
        marks[i] = std::max(marks[i - 1], static_cast<double>(next - 1) + std::clamp(part, 0.0, 1.0));
    }
    return marks;
}

/// The faces at each place along the section's line where their law bends.
std::vector<geometry::FacesAt> faces_along(const std::vector<geometry::LinePlace>& places,
                                           const geometry::OffsetRow& left, const geometry::OffsetRow& right) {
    std::vector<geometry::FacesAt> faces;
    const auto put = [&](Length along, double mark) {
        if (faces.empty() || in_mm(along - faces.back().along) > k_same_face_mm) {
            faces.push_back({along, {geometry::millimetres(left.at(mark)), geometry::millimetres(right.at(mark))}});
        }
    };
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (i > 0) {
            const auto& [from, from_mark] = places[i - 1];
            const auto& [to, to_mark] = places[i];
            const auto& bends = left.marks.size() > right.marks.size() ? left.marks : right.marks;
            for (auto mark = std::upper_bound(bends.begin(), bends.end(), from_mark);
                 mark != bends.end() && *mark < to_mark; ++mark) {
                put(from + ((*mark - from_mark) / (to_mark - from_mark)) * (to - from), *mark);
            }
        }
        put(places[i].along, places[i].mark);
    }
    return faces;
}

/// Mean thickness along the line.
Length mean_thickness(const std::vector<geometry::FacesAt>& faces) {
    double area = 0.0;
    for (std::size_t i = 1; i < faces.size(); ++i) {
        const auto thick = [&](std::size_t k) { return in_mm(faces[k].faces.left - faces[k].faces.right); };
        area += 0.5 * (thick(i - 1) + thick(i)) * in_mm(faces[i].along - faces[i - 1].along);
    }
    return geometry::millimetres(area / in_mm(faces.back().along - faces.front().along));
}

geometry::Result<std::vector<Profile>> formed_outline(const Piece& piece, const geometry::Loft& line,
                                                      const FormedSheet& formed, Length along,
                                                      const std::vector<geometry::ProfileNode>& nodes,
                                                      const Profile& profile) {
    const auto laws = varying_faces(piece, line, &formed);
    std::vector<geometry::Corner> corners;
    if (auto status = geometry::find_corners(nodes, std::vector<std::string>(nodes.size()), false, corners); !status) {
        return status.error();
    }
    const auto places = geometry::line_places(corners, marks_of(nodes, line.nodes_at(along)));
    const auto faces = faces_along(places, laws->left.at(along), laws->right.at(along));
    auto outline = geometry::sheet_outline(profile, faces, k_section_fit);
    if (outline || outline.error().code != geometry::ErrorCode::does_not_fit) {
        return outline;
    }
    Piece even = piece;
    even.sheet->value = mean_thickness(faces);
    return geometry::sheet_outline(profile, *sheet_faces(even));
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

geometry::Result<PartSection> part_section(const Piece& piece, const geometry::Loft& line, Length along, Flutes flutes,
                                           const FormedSheet* formed) {
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
    const auto outline = formed == nullptr
                             ? geometry::sheet_outline(profile.value(), *faces)
                             : formed_outline(piece, line, *formed, along, nodes.value(), profile.value());
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
                                                         std::vector<Length> cuts, const FormedSheet* formed) {
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
        auto section = part_section(piece, line, from + 0.5 * (cuts[i] - from), Flutes::cut, formed);
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
