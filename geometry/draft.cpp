#include "geometry/draft.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace sillwright::geometry {

using Eigen::Vector2d;

namespace {

constexpr double k_turn = 2.0 * std::numbers::pi;
/// A corner of the hull may be found this much (radians) after its turn has come: rounding.
constexpr double k_late = 1e-9;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

/// One chain of the hull of sorted points, from the first to the last with all others on its left.
template <class Points>
void add_chain(const Points& points, std::vector<Vector2d>& hull) {
    const std::size_t base = hull.size();
    for (const Vector2d& p : points) {
        while (hull.size() >= base + 2 && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0.0) {
            hull.pop_back();
        }
        hull.push_back(p);
    }
    hull.pop_back();  // The other chain begins with it.
}

std::vector<Vector2d> convex_hull(std::vector<Vector2d> points) {
    const auto before = [](const Vector2d& a, const Vector2d& b) {
        return a.x() < b.x() || (a.x() == b.x() && a.y() < b.y());
    };
    std::sort(points.begin(), points.end(), before);
    points.erase(std::unique(points.begin(), points.end()), points.end());
    if (points.size() < 3) {
        return points;
    }
    std::vector<Vector2d> hull;
    add_chain(points, hull);
    std::reverse(points.begin(), points.end());
    add_chain(points, hull);
    return hull;
}

/// `angle` with whole turns added, so that it is nearest to `to`.
double near_to(double angle, double to) {
    return to + std::remainder(angle - to, k_turn);
}

double safe_asin(double sine) {
    return std::asin(std::clamp(sine, -1.0, 1.0));
}

}  // namespace

Vector2d draw_direction(Angle tilt) {
    return {std::cos(in_rad(tilt)), std::sin(in_rad(tilt))};
}

Angle draft_of(const Vector2d& normal, Angle tilt) {
    return radians(safe_asin(normal.dot(draw_direction(tilt))));
}

LeastDraft::LeastDraft(const std::vector<Vector2d>& normals) : hull_{convex_hull(normals)} {
    assert(!hull_.empty());
}

Angle LeastDraft::at(Angle tilt) const {
    const Vector2d p = draw_direction(tilt);
    double least = hull_.front().dot(p);
    for (const Vector2d& corner : hull_) {
        least = std::min(least, corner.dot(p));
    }
    return radians(safe_asin(least));
}

BestTilt LeastDraft::best(Angle from, Angle to) const {
    assert(from <= to);
    double tilt = in_rad(from);
    const double last = in_rad(to);
    const Vector2d first_direction = draw_direction(from);
    std::size_t k = 0;
    for (std::size_t i = 1; i < hull_.size(); ++i) {
        k = hull_[i].dot(first_direction) < hull_[k].dot(first_direction) ? i : k;
    }
    double best_tilt = tilt;
    double best = hull_[k].dot(first_direction);
    const auto consider = [&](double at, const Vector2d& corner) {
        const double sine = corner.dot(draw_direction(radians(at)));
        if (sine > best) {
            best = sine;
            best_tilt = at;
        }
    };
    // Every corner of the hull is the least once in a turn.
    for (std::size_t step = 0; step <= hull_.size() && tilt <= last; ++step) {
        const Vector2d& corner = hull_[k];
        const Vector2d& next = hull_[(k + 1) % hull_.size()];
        double until = last;
        if (hull_.size() > 1) {
            const Vector2d edge = next - corner;
            double change = near_to(std::atan2(edge.x(), -edge.y()), tilt);
            change = change < tilt - k_late ? change + k_turn : std::max(change, tilt);
            until = std::min(change, last);
        }
        const double facing = near_to(std::atan2(corner.y(), corner.x()), tilt);
        if (facing > tilt && facing < until) {
            consider(facing, corner);
        }
        consider(until, corner);
        if (until >= last) {
            break;
        }
        tilt = until;
        k = (k + 1) % hull_.size();
    }
    return {radians(best_tilt), radians(safe_asin(best))};
}

std::optional<TiltRange> LeastDraft::enough(Angle draft, Angle from, Angle to) const {
    assert(in_rad(draft) >= 0.0 && from <= to);
    const double needed = std::sin(in_rad(draft));
    const double middle = 0.5 * (in_rad(from) + in_rad(to));
    double low = in_rad(from);
    double high = in_rad(to);
    for (const Vector2d& corner : hull_) {
        const double length = corner.norm();
        if (length < needed) {
            return std::nullopt;
        }
        if (length == 0.0) {
            continue;  // Square to every draw direction: no draft, and none is needed.
        }
        const double half = std::acos(needed / length);
        const double facing = near_to(std::atan2(corner.y(), corner.x()), middle);
        low = std::max(low, facing - half);
        high = std::min(high, facing + half);
    }
    return low <= high ? std::optional(TiltRange{radians(low), radians(high)}) : std::nullopt;
}

}  // namespace sillwright::geometry
