#include "geometry/window_fit.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

namespace sillwright::geometry {

using Eigen::Vector2d;

namespace {

constexpr double k_pi = std::numbers::pi;
/// Overhangs nearer to each other than this are equal: the accuracy that is promised.
constexpr double k_equal_mm = 1e-9;
/// Events nearer to each other are one: an edge between corners within 100 m moves by less than k_equal_mm.
constexpr double k_same_angle = 1e-15;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

bool finite(std::span<const Vector2d> points, const Vector2d& window) {
    return window.allFinite() && std::all_of(points.begin(), points.end(), [](const auto& p) { return p.allFinite(); });
}

std::optional<Error> fault(std::span<const Vector2d> points, const Vector2d& window) {
    if (points.empty()) {
        return Error{ErrorCode::invalid_argument, "An outline without points cannot be laid in a window."};
    }
    if (!finite(points, window)) {
        return Error{ErrorCode::invalid_argument,
                     "An outline or window with a number that is not finite cannot be laid."};
    }
    return std::nullopt;
}

Vector2d direction(double angle) {
    return {std::cos(angle), std::sin(angle)};
}

/// The corner of the hull that is furthest in a direction, which only ever turns anticlockwise.
class Calliper {
public:
    Calliper(const std::vector<Vector2d>& hull, double angle) : hull_(&hull) {
        const Vector2d u = direction(angle);
        for (std::size_t i = 1; i < hull.size(); ++i) {
            if (hull[i].dot(u) > hull[at_].dot(u)) {
                at_ = i;
            }
        }
    }
    const Vector2d& turned_to(double angle) {
        const Vector2d u = direction(angle);
        for (std::size_t i = 0; i < hull_->size(); ++i) {
            const std::size_t next = (at_ + 1) % hull_->size();
            if ((*hull_)[next].dot(u) <= (*hull_)[at_].dot(u)) {
                break;
            }
            at_ = next;
        }
        return (*hull_)[at_];
    }

private:
    const std::vector<Vector2d>* hull_;
    std::size_t at_ = 0;
};

/// Angles from 0 to a right angle at which a width in one of two square directions comes to another pair of corners.
/// Beyond a right angle the two directions change places.
std::vector<double> events(const std::vector<Vector2d>& hull) {
    std::vector<double> all{0.0, k_pi / 2.0};
    for (std::size_t i = 0; i < hull.size() && hull.size() > 1; ++i) {
        const Vector2d edge = hull[(i + 1) % hull.size()] - hull[i];
        double angle = std::fmod(std::atan2(edge.y(), edge.x()), k_pi / 2.0);
        all.push_back(angle < 0.0 ? angle + k_pi / 2.0 : angle);
    }
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end(), [](double a, double b) { return b - a <= k_same_angle; }), all.end());
    return all;
}

/// Angles between `from` and `to` at which two widths less their windows are equal: a · u + b · v = c, u at the angle
/// and v square to it.
void add_crossings(double a, double b, double c, double from, double to, std::vector<double>& angles) {
    const double size = std::hypot(a, b);
    if (std::abs(c) > size || size == 0.0) {
        return;
    }
    const double middle = std::atan2(b, a);
    const double aside = std::acos(c / size);
    for (const double angle : {middle - aside, middle + aside}) {
        // The interval lies within a right angle from zero up.
        const double turned = angle < 0.0 ? angle + 2.0 * k_pi : angle;
        if (turned > from && turned < to) {
            angles.push_back(turned);
        }
    }
}

/// All angles of the window's length in the outline's frame, from 0 to a straight one, at which the least can be.
std::vector<double> candidates(const std::vector<Vector2d>& hull, const Vector2d& window) {
    const std::vector<double> marks = events(hull);
    std::vector<double> all;
    for (const double mark : marks) {
        all.push_back(mark);
        all.push_back(mark + k_pi / 2.0);
    }
    Calliper right(hull, 0.0);
    Calliper left(hull, k_pi);
    Calliper upper(hull, k_pi / 2.0);
    Calliper lower(hull, 1.5 * k_pi);
    for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
        const double middle = 0.5 * (marks[i] + marks[i + 1]);
        const Vector2d one = right.turned_to(middle) - left.turned_to(middle + k_pi);
        const Vector2d other = upper.turned_to(middle + k_pi / 2.0) - lower.turned_to(middle + 1.5 * k_pi);
        // Widths: one · (cos, sin) and other · (-sin, cos).
        const double a = one.x() - other.y();
        const double b = one.y() + other.x();
        add_crossings(a, b, window.x() - window.y(), marks[i], marks[i + 1], all);
        // The window's length along the second direction: a right angle further.
        std::vector<double> further;
        add_crossings(a, b, window.y() - window.x(), marks[i], marks[i + 1], further);
        for (const double angle : further) {
            all.push_back(angle + k_pi / 2.0);
        }
    }
    return all;
}

/// Above minus a right angle, at most a right angle.
double as_yaw(double angle) {
    double yaw = std::remainder(angle, k_pi);
    return yaw <= -k_pi / 2.0 ? yaw + k_pi : yaw;
}

WindowFit laid(std::span<const Vector2d> points, const Vector2d& window, double yaw) {
    // A right angle is no double: its cosine would be 6e-17.
    const double c = std::abs(std::cos(yaw)) <= k_same_angle ? 0.0 : std::cos(yaw);
    const double s = std::sin(yaw);
    constexpr double k_far = std::numeric_limits<double>::infinity();
    Vector2d low(k_far, k_far);
    Vector2d high(-k_far, -k_far);
    for (const Vector2d& p : points) {
        const Vector2d turned(c * p.x() - s * p.y(), s * p.x() + c * p.y());
        low = low.cwiseMin(turned);
        high = high.cwiseMax(turned);
    }
    return {radians(yaw), millimetres((high - low - window).maxCoeff()), -0.5 * (low + high)};
}

/// Of the turns that are as good as the best, the one nearest to none.
WindowFit nearest_to_none(const std::vector<WindowFit>& fits) {
    const auto best = std::min_element(fits.begin(), fits.end(),
                                       [](const auto& one, const auto& other) { return one.excess < other.excess; });
    const Length equal = best->excess + millimetres(k_equal_mm);
    const WindowFit* chosen = &*best;
    for (const WindowFit& fit : fits) {
        const double nearer = std::abs(in_rad(chosen->yaw)) - std::abs(in_rad(fit.yaw));
        if (fit.excess <= equal && (nearer > k_same_angle || (nearer >= -k_same_angle && fit.yaw > chosen->yaw))) {
            chosen = &fit;
        }
    }
    return *chosen;
}

}  // namespace

std::vector<Vector2d> convex_hull(std::span<const Vector2d> points_mm) {
    std::vector<Vector2d> points(points_mm.begin(), points_mm.end());
    const auto before = [](const Vector2d& a, const Vector2d& b) {
        return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y();
    };
    std::sort(points.begin(), points.end(), before);
    points.erase(std::unique(points.begin(), points.end()), points.end());
    if (points.size() < 3) {
        return points;
    }
    std::vector<Vector2d> hull;
    const auto take = [&hull](const Vector2d& p, std::size_t least) {
        while (hull.size() >= least && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0.0) {
            hull.pop_back();
        }
        hull.push_back(p);
    };
    for (const Vector2d& p : points) {
        take(p, 2);
    }
    const std::size_t upper = hull.size() + 1;
    for (std::size_t i = points.size() - 1; i-- > 0;) {
        take(points[i], upper);
    }
    hull.pop_back();
    return hull;
}

Result<WindowFit> window_fit_at(std::span<const Vector2d> points_mm, const Vector2d& window_mm, Angle yaw) {
    if (const auto wrong = fault(points_mm, window_mm)) {
        return *wrong;
    }
    if (!std::isfinite(in_rad(yaw))) {
        return Error{ErrorCode::invalid_argument, "An outline cannot be turned by a number that is not finite."};
    }
    return laid(points_mm, window_mm, as_yaw(in_rad(yaw)));
}

Result<WindowFit> window_fit(std::span<const Vector2d> points_mm, const Vector2d& window_mm) {
    if (const auto wrong = fault(points_mm, window_mm)) {
        return *wrong;
    }
    const std::vector<Vector2d> hull = convex_hull(points_mm);
    std::vector<WindowFit> fits;
    for (const double angle : candidates(hull, window_mm)) {
        // The part turns the other way than the window does in its frame.
        fits.push_back(laid(hull, window_mm, as_yaw(-angle)));
    }
    return nearest_to_none(fits);
}

}  // namespace sillwright::geometry
