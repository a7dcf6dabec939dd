#include "core/buck/rib_outline.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "core/number_text.h"
#include "geometry/arc_fit.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::millimetres;
using geometry::Profile;
using geometry::Result;

namespace {

/// Two pieces of the row that run together within rounding do not cross.
constexpr double k_loop_mm2 = 1e-9;
/// Parallel within rounding.
constexpr double k_parallel_mm2 = 1e-15;
/// Shorter strips are left out, and the next begins where the one before ended: half of what outlines are fitted to.
constexpr double k_tiny_mm = 0.5 * in_mm(k_rib_fit);
/// A wall and the straight down from it are one within rounding.
constexpr double k_one_line_mm = 1e-6;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

std::optional<Vector2d> crossing(const Vector2d& a, const Vector2d& b, const Vector2d& c, const Vector2d& d) {
    if (std::max(a.x(), b.x()) < std::min(c.x(), d.x()) || std::max(c.x(), d.x()) < std::min(a.x(), b.x()) ||
        std::max(a.y(), b.y()) < std::min(c.y(), d.y()) || std::max(c.y(), d.y()) < std::min(a.y(), b.y())) {
        return std::nullopt;
    }
    const Vector2d ab = b - a;
    const Vector2d cd = d - c;
    const double by = cross(ab, cd);
    if (std::abs(by) < k_parallel_mm2) {
        return std::nullopt;
    }
    const double s = cross(c - a, cd) / by;
    const double t = cross(c - a, ab) / by;
    return s >= 0.0 && s <= 1.0 && t >= 0.0 && t <= 1.0 ? std::optional<Vector2d>(a + s * ab) : std::nullopt;
}

/// Twice the area of the loop from `at` by points first..last and back.
double loop_area(const std::vector<PlugPoint>& row, const Vector2d& at, std::size_t first, std::size_t last) {
    double area = 0.0;
    Vector2d from = Vector2d::Zero();
    for (std::size_t k = first; k <= last; ++k) {
        const Vector2d to = row[k].at_mm - at;
        area += cross(from, to);
        from = to;
    }
    return area;
}

std::size_t strip_of(const PlugLayout& layout, std::size_t point) {
    const auto found = std::upper_bound(layout.strips.begin(), layout.strips.end(), point,
                                        [](std::size_t p, const PlugStrip& strip) { return p < strip.first; });
    return static_cast<std::size_t>(found - layout.strips.begin()) - 1;
}

/// What goes with the points first..last.
SharpCorner sharp_corner(const std::vector<PlugPoint>& row, const PlugLayout& layout, const Vector2d& at,
                         std::size_t first, std::size_t last, double skin) {
    SharpCorner gone;
    std::string names;
    for (const PlugStrip& strip : layout.strips) {
        if (strip.rounding && strip.first <= last && strip.last >= first) {
            names += (names.empty() ? "" : ", ") + strip.name;
        }
    }
    gone.where = names.empty() ? layout.strips[strip_of(layout, first)].name : names;
    for (std::size_t k = first; k <= last; ++k) {
        gone.under_mm = std::max(gone.under_mm, (row[k].outer_mm - at).norm() - skin);
    }
    for (std::size_t k = first; k <= last + 1 && k < row.size(); ++k) {
        const Vector2d& a = row[k - 1].outward;
        const Vector2d& b = row[k].outward;
        gone.turn_rad += std::atan2(cross(a, b), a.dot(b));
    }
    return gone;
}

Error does_not_fit(std::string message) {
    return {ErrorCode::does_not_fit, std::move(message)};
}

std::optional<Vector2d> self_crossing(const std::vector<Vector2d>& chain) {
    for (std::size_t i = 0; i + 1 < chain.size(); ++i) {
        for (std::size_t k = i + 2; k + 1 < chain.size(); ++k) {
            if (i == 0 && k + 2 == chain.size() && (chain.front() - chain.back()).norm() < k_one_line_mm) {
                continue;
            }
            const auto at = crossing(chain[i], chain[i + 1], chain[k], chain[k + 1]);
            // neighbours but for points at one place between them
            if (at && (*at - chain[i + 1]).norm() > k_one_line_mm && (*at - chain[k]).norm() > k_one_line_mm) {
                return at;
            }
        }
    }
    return std::nullopt;
}

std::string at_words(const Vector2d& at) {
    return "side " + mm_text(millimetres(at.x()), 1) + ", height " + mm_text(millimetres(at.y()), 1);
}

}  // namespace

double RibEdge::lower_end_mm() const {
    return std::min(points.front().at_mm.y(), points.back().at_mm.y());
}

Result<RibEdge> rib_edge(const std::vector<PlugPoint>& inner, const PlugLayout& layout, Length skin) {
    RibEdge edge;
    const auto put = [&](std::size_t i) {
        const std::size_t strip = strip_of(layout, i);
        edge.points.push_back({inner[i].at_mm, i, strip, strip});
    };
    put(0);
    Vector2d from = inner.front().at_mm;
    for (std::size_t i = 0; i + 1 < inner.size();) {
        std::optional<Vector2d> cut;
        std::size_t behind = 0;
        for (std::size_t k = inner.size() - 2; k > i + 1 && !cut; --k) {
            const auto at = crossing(from, inner[i + 1].at_mm, inner[k].at_mm, inner[k + 1].at_mm);
            if (at && loop_area(inner, *at, i + 1, k) < -k_loop_mm2) {
                cut = at;
                behind = k;
            }
        }
        if (!cut) {
            put(i + 1);
            from = inner[i + 1].at_mm;
            ++i;
            continue;
        }
        const SharpCorner gone = sharp_corner(inner, layout, *cut, i + 1, behind, in_mm(skin));
        if (gone.turn_rad > in_rad(k_vanishing_turn)) {
            return does_not_fit("less the skin of " + mm_text(skin) + ", the section vanishes about " + gone.where +
                                ": its surface would stand off the rib by " + mm_text(millimetres(gone.under_mm)) +
                                " more than the skin");
        }
        edge.sharp.push_back(gone);
        edge.points.push_back({*cut, EdgePoint::k_corner, strip_of(layout, i), strip_of(layout, behind + 1)});
        from = *cut;
        i = behind;
        // the rest of that straight is looked at again, from the crossing on
    }
    std::vector<Vector2d> chain;
    for (const EdgePoint& point : edge.points) {
        if (chain.empty() || (point.at_mm - chain.back()).norm() > k_one_line_mm) {
            chain.push_back(point.at_mm);
        }
    }
    if (const auto at = self_crossing(chain)) {
        return does_not_fit("less the skin of " + mm_text(skin) + ", the section crosses itself at " + at_words(*at));
    }
    return edge;
}

Result<Profile> rib_outline(const RibEdge& edge, const PlugLayout& layout, double base_mm) {
    const Vector2d down(0.0, base_mm);
    std::vector<std::vector<Vector2d>> strips(layout.strips.size());
    double lowest = 0.0;
    Vector2d lowest_at = Vector2d::Zero();
    for (const EdgePoint& point : edge.points) {
        const Vector2d p = point.at_mm - down;
        if (p.y() < lowest) {
            lowest = p.y();
            lowest_at = p;
        }
        strips[point.strip].push_back(p);
        if (point.next_strip != point.strip) {
            strips[point.next_strip].push_back(p);
        }
    }
    if (lowest < 0.0) {
        return does_not_fit("the base cuts the section: it goes " + mm_text(millimetres(-lowest)) +
                            " below it at side " + mm_text(millimetres(lowest_at.x()), 1));
    }
    Profile outline;
    outline.closed = true;
    const auto line = [&](const Vector2d& a, const Vector2d& b, std::size_t node) {
        outline.segments.push_back({geometry::LineSegment{a, b}, node});
    };
    const Vector2d first = edge.points.front().at_mm - down;
    const Vector2d last = edge.points.back().at_mm - down;
    const Vector2d first_foot(first.x(), 0.0);
    const Vector2d last_foot(last.x(), 0.0);
    line(first_foot, first, layout.strips.front().node);
    Vector2d reached = first;
    for (std::size_t i = 0; i < strips.size(); ++i) {
        std::vector<Vector2d>& points = strips[i];
        const bool is_last = i + 1 == strips.size();
        if (points.empty() || (!is_last && (points.back() - reached).norm() < k_tiny_mm)) {
            continue;  // what a strip that hardly turns has for a rounding
        }
        points.front() = reached;
        const auto fitted = geometry::lines_and_arcs(points, k_rib_fit, layout.strips[i].node);
        outline.segments.insert(outline.segments.end(), fitted.begin(), fitted.end());
        reached = points.back();
    }
    line(last, last_foot, layout.strips.back().node);
    // an upright wall and the straight below it are one
    const auto join = [&](std::size_t a) {
        const Vector2d from = start_point(outline.segments[a]);
        const Vector2d middle = end_point(outline.segments[a]);
        const Vector2d to = end_point(outline.segments[a + 1]);
        const bool straight = std::holds_alternative<geometry::LineSegment>(outline.segments[a].shape) &&
                              std::holds_alternative<geometry::LineSegment>(outline.segments[a + 1].shape);
        if (straight && std::abs(cross((to - from).normalized(), middle - from)) < k_one_line_mm) {
            outline.segments[a] = {geometry::LineSegment{from, to}, outline.segments[a].node};
            outline.segments.erase(outline.segments.begin() + static_cast<std::ptrdiff_t>(a) + 1);
        }
    };
    join(outline.segments.size() - 2);
    join(0);
    line(last_foot, first_foot, layout.strips.back().node);

    std::vector<Vector2d> chain{first_foot};
    for (const EdgePoint& point : edge.points) {
        const Vector2d p = point.at_mm - down;
        if ((p - chain.back()).norm() > k_one_line_mm) {
            chain.push_back(p);
        }
    }
    chain.push_back(last_foot);
    chain.push_back(first_foot);
    if (const auto at = self_crossing(chain)) {
        return does_not_fit("the straight down from the trim allowance crosses the section at " + at_words(*at));
    }
    if (!(geometry::enclosed_area_mm2(outline) > 0.0)) {
        return does_not_fit("less the skin, nothing is left of the section: it is narrower than two skins");
    }
    return outline;
}

std::vector<Bevel> bevels(const RibEdge& near, const RibEdge& far, const std::vector<PlugPoint>& near_points,
                          const PlugLayout& layout, double thickness_mm) {
    std::vector<std::optional<Vector2d>> other(near_points.size());
    for (const EdgePoint& point : far.points) {
        if (point.number != EdgePoint::k_corner) {
            other[point.number] = point.at_mm;
        }
    }
    std::vector<Bevel> all;
    std::size_t strip = layout.strips.size();
    for (const EdgePoint& point : near.points) {
        if (point.number == EdgePoint::k_corner || !other[point.number] || layout.strips[point.strip].rounding) {
            continue;
        }
        const double apart = (point.at_mm - *other[point.number]).dot(near_points[point.number].outward);
        const geometry::Angle angle = geometry::radians(std::atan2(apart, thickness_mm));
        if (point.strip != strip) {
            strip = point.strip;
            all.push_back({layout.strips[strip].name, angle, angle, millimetres(apart)});
        }
        all.back().to = angle;
        if (std::abs(apart) > std::abs(in_mm(all.back().most))) {
            all.back().most = millimetres(apart);
        }
    }
    return all;
}

double misfit_mm(const RibEdge& edge, const Profile& outline, double base_mm) {
    double most = 0.0;
    for (const EdgePoint& point : edge.points) {
        const Vector2d p = point.at_mm - Vector2d(0.0, base_mm);
        double least = std::numeric_limits<double>::max();
        for (const geometry::Segment& segment : outline.segments) {
            least = std::min(least, in_mm(distance_to(segment, p)));
        }
        most = std::max(most, least);
    }
    return most;
}

RibEdge half_way(const RibEdge& near, const RibEdge& far) {
    RibEdge middle;
    std::size_t k = 0;
    const auto corners = [](const RibEdge& edge) {
        return std::count_if(edge.points.begin(), edge.points.end(),
                             [](const EdgePoint& p) { return p.number == EdgePoint::k_corner; });
    };
    if (corners(near) != corners(far)) {
        return middle;
    }
    // points of one face that are gone on the other are left out
    for (const EdgePoint& a : near.points) {
        const auto same = [&](const EdgePoint& b) {
            return a.number == b.number && (a.number != EdgePoint::k_corner || a.strip == b.strip);
        };
        const auto found = std::find_if(far.points.begin() + static_cast<std::ptrdiff_t>(k), far.points.end(), same);
        if (found == far.points.end()) {
            continue;
        }
        k = static_cast<std::size_t>(found - far.points.begin()) + 1;
        middle.points.push_back({0.5 * (a.at_mm + found->at_mm), a.number, a.strip, a.next_strip});
    }
    return middle;
}

}  // namespace sillwright::core
