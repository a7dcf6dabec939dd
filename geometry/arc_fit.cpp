#include "geometry/arc_fit.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

namespace sillwright::geometry {

namespace {

using Eigen::Vector2d;

/// Nearer points are one: far below what is cut, far above rounding.
constexpr double k_same_place_mm = 1e-7;
/// Points may go back along their segment by this: rounding.
constexpr double k_back_mm = 1e-9;
/// An arc that stands off its chord by less is a straight within rounding.
constexpr double k_flat_mm = 1e-9;
/// A longer arc goes most of the way round, which a row of points does in two.
constexpr double k_most_sweep = 1.5 * std::numbers::pi;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

using Points = std::vector<Vector2d>;

bool line_fits(const Points& p, std::size_t from, std::size_t to, double tolerance) {
    const Vector2d way = (p[to] - p[from]).normalized();
    double reached = 0.0;
    for (std::size_t i = from + 1; i < to; ++i) {
        const Vector2d off = p[i] - p[from];
        const double along = way.dot(off);
        if (std::abs(cross(way, off)) > tolerance || along < reached - k_back_mm) {
            return false;
        }
        reached = along;
    }
    return from + 1 >= to || (p[to] - p[from]).norm() >= reached - k_back_mm;
}

/// Of the points between two, the one that is nearest to half-way.
std::size_t middle_of(const Points& p, std::size_t from, std::size_t to) {
    std::size_t best = from + 1;
    double least = std::numeric_limits<double>::max();
    for (std::size_t i = from + 1; i < to; ++i) {
        const double uneven = std::abs((p[i] - p[from]).norm() - (p[to] - p[i]).norm());
        if (uneven < least) {
            least = uneven;
            best = i;
        }
    }
    return best;
}

std::optional<ArcSegment> arc_through(const Vector2d& a, const Vector2d& b, const Vector2d& c) {
    const Vector2d ab = b - a;
    const Vector2d ac = c - a;
    const double twice = 2.0 * cross(ab, ac);
    const double chord = ac.norm();
    if (std::abs(twice) < 2.0 * k_flat_mm * chord) {
        return std::nullopt;
    }
    const Vector2d to_centre((ac.y() * ab.squaredNorm() - ab.y() * ac.squaredNorm()) / twice,
                             (ab.x() * ac.squaredNorm() - ac.x() * ab.squaredNorm()) / twice);
    ArcSegment arc{a + to_centre, to_centre.norm(), {}, {}};
    const double start = std::atan2(-to_centre.y(), -to_centre.x());
    const Vector2d end_arm = c - arc.centre;
    double sweep = std::atan2(end_arm.y(), end_arm.x()) - start;
    const bool left = twice > 0.0;
    while (left && sweep <= 0.0) {
        sweep += 2.0 * std::numbers::pi;
    }
    while (!left && sweep >= 0.0) {
        sweep -= 2.0 * std::numbers::pi;
    }
    arc.start = radians(start);
    arc.sweep = radians(sweep);
    return std::abs(sweep) > k_most_sweep ? std::nullopt : std::optional(arc);
}

std::optional<ArcSegment> arc_that_fits(const Points& p, std::size_t from, std::size_t to, double tolerance) {
    const auto arc = arc_through(p[from], p[middle_of(p, from, to)], p[to]);
    if (!arc) {
        return std::nullopt;
    }
    const double turn = in_rad(arc->sweep) > 0.0 ? 1.0 : -1.0;
    for (std::size_t i = from; i < to; ++i) {
        const Vector2d arm = p[i] - arc->centre;
        const Vector2d next = p[i + 1] - arc->centre;
        if (std::abs(arm.norm() - arc->radius_mm) > tolerance ||
            turn * cross(arm, next) < -k_back_mm * arc->radius_mm) {
            return std::nullopt;
        }
    }
    return arc;
}

struct Fitted {
    std::size_t to = 0;
    Segment segment;
};

std::optional<Segment> fitted_between(const Points& p, std::size_t from, std::size_t to, double tolerance,
                                      std::size_t node) {
    if (line_fits(p, from, to, tolerance)) {
        return Segment{LineSegment{p[from], p[to]}, node};
    }
    if (const auto arc = arc_that_fits(p, from, to, tolerance)) {
        return Segment{*arc, node};
    }
    return std::nullopt;
}

/// The whole rest if it fits, else as far as doubled steps and then halving lead.
Fitted longest_from(const Points& p, std::size_t from, double tolerance, std::size_t node) {
    const std::size_t last = p.size() - 1;
    if (auto whole = fitted_between(p, from, last, tolerance, node)) {
        return {last, *whole};
    }
    Fitted best{from + 1, Segment{LineSegment{p[from], p[from + 1]}, node}};
    std::size_t fails = last;
    for (std::size_t step = 2; from + step < last; step *= 2) {
        if (auto found = fitted_between(p, from, from + step, tolerance, node)) {
            best = {from + step, *found};
        } else {
            fails = from + step;
            break;
        }
    }
    while (fails > best.to + 1) {
        const std::size_t middle = best.to + (fails - best.to) / 2;
        if (auto found = fitted_between(p, from, middle, tolerance, node)) {
            best = {middle, *found};
        } else {
            fails = middle;
        }
    }
    return best;
}

}  // namespace

std::vector<Segment> lines_and_arcs(const std::vector<Vector2d>& points_mm, Length tolerance, std::size_t node) {
    assert(in_mm(tolerance) > 0.0);
    Points points;
    for (const Vector2d& p : points_mm) {
        if (points.empty() || (p - points.back()).norm() > k_same_place_mm) {
            points.push_back(p);
        }
    }
    std::vector<Segment> segments;
    for (std::size_t at = 0; at + 1 < points.size();) {
        Fitted next = longest_from(points, at, in_mm(tolerance), node);
        segments.push_back(next.segment);
        at = next.to;
    }
    return segments;
}

}  // namespace sillwright::geometry
