#include "geometry/area_moments.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <variant>

namespace sillwright::geometry {

namespace {

using Eigen::Vector2d;

/// Half turns below this are summed as power series, as the closed forms lose digits there. At this turn either way
/// is good to 1e-13.
constexpr double k_series_below_rad = 1.0;
/// Powers enough for a half turn of one: the last term is below 1e-17 of the first.
constexpr int k_powers = 16;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

/// Area, first and second moments of something about a point.
struct Sums {
    double area = 0.0;
    Vector2d first = Vector2d::Zero();
    double xx = 0.0, yy = 0.0, xy = 0.0;
};

/// Of the segment of a unit circle between an arc of half turn `a` and its chord, about the chord's middle: u along
/// the chord, n outward. The product of the two is zero.
struct UnitSegment {
    double area = 0.0, n = 0.0, nn = 0.0, uu = 0.0;
};

UnitSegment closed_form(double a) {
    const double s2 = std::sin(2.0 * a);
    const double s4 = std::sin(4.0 * a);
    return {a - s2 / 2.0, 0.75 * std::sin(a) + std::sin(3.0 * a) / 12.0 - a * std::cos(a),
            (2.25 * a + 1.5 * a * std::cos(2.0 * a) - 1.75 * s2 - s4 / 16.0) / 3.0, a / 4.0 - s2 / 6.0 + s4 / 48.0};
}

/// The same by powers of the turn; powers whose factors are zero are left out.
UnitSegment series(double a) {
    UnitSegment sum;
    double factorial = 1.0;  // of 2 k
    for (int k = 1; k < k_powers; ++k) {
        const int n = 2 * k;
        factorial *= n * (n - 1.0);
        const double odd = factorial * (n + 1.0);  // factorial of 2 k + 1
        const double power = (k % 2 == 0 ? 1.0 : -1.0) * std::pow(a, n + 1);
        const auto to = [n](double base) { return std::pow(base, n + 1); };
        sum.area -= power * to(2.0) / 2.0 / odd;
        if (k >= 2) {
            sum.n += power * ((0.75 + to(3.0) / 12.0) / odd - 1.0 / factorial);
            sum.uu += power * (to(4.0) / 48.0 - to(2.0) / 6.0) / odd;
        }
        if (k >= 3) {
            sum.nn += power * (0.75 * to(2.0) / factorial - (1.75 * to(2.0) + to(4.0) / 16.0) / odd) / 3.0;
        }
    }
    return sum;
}

void add_chord(const Vector2d& a, const Vector2d& b, Sums& sums) {
    const double c = cross(a, b);
    sums.area += c / 2.0;
    sums.first += c / 6.0 * (a + b);
    sums.xx += c / 12.0 * (a.y() * a.y() + a.y() * b.y() + b.y() * b.y());
    sums.yy += c / 12.0 * (a.x() * a.x() + a.x() * b.x() + b.x() * b.x());
    sums.xy += c / 24.0 * (a.x() * b.y() + 2.0 * a.x() * a.y() + 2.0 * b.x() * b.y() + b.x() * a.y());
}

/// What lies between an arc and its chord, whose middle is `middle`.
void add_segment(const ArcSegment& arc, const Vector2d& middle, Sums& sums) {
    const double half = std::abs(in_rad(arc.sweep)) / 2.0;
    const double sign = in_rad(arc.sweep) > 0.0 ? 1.0 : -1.0;
    const UnitSegment unit = half < k_series_below_rad ? series(half) : closed_form(half);
    const double r2 = arc.radius_mm * arc.radius_mm;
    const double area = sign * unit.area * r2;
    const double first = sign * unit.n * r2 * arc.radius_mm;
    const double nn = sign * unit.nn * r2 * r2;
    const double uu = sign * unit.uu * r2 * r2;
    const double towards = in_rad(arc.start) + in_rad(arc.sweep) / 2.0;
    const Vector2d n{std::cos(towards), std::sin(towards)};
    const Vector2d u{-n.y(), n.x()};
    sums.area += area;
    sums.first += area * middle + first * n;
    sums.xx +=
        area * middle.y() * middle.y() + 2.0 * first * middle.y() * n.y() + nn * n.y() * n.y() + uu * u.y() * u.y();
    sums.yy +=
        area * middle.x() * middle.x() + 2.0 * first * middle.x() * n.x() + nn * n.x() * n.x() + uu * u.x() * u.x();
    sums.xy += area * middle.x() * middle.y() + first * (middle.x() * n.y() + middle.y() * n.x()) + nn * n.x() * n.y() +
               uu * u.x() * u.y();
}

Sums sums_about(std::span<const Profile> profiles, const Vector2d& base) {
    Sums sums;
    for (const Profile& profile : profiles) {
        Vector2d from = start_point(profile.segments.front()) - base;
        const Vector2d start = from;
        for (std::size_t i = 0; i < profile.segments.size(); ++i) {
            const Segment& segment = profile.segments[i];
            const Vector2d to = i + 1 == profile.segments.size() ? start : Vector2d{end_point(segment) - base};
            add_chord(from, to, sums);
            if (const auto* arc = std::get_if<ArcSegment>(&segment.shape)) {
                add_segment(*arc, (from + to) / 2.0, sums);
            }
            from = to;
        }
    }
    return sums;
}

/// The middle of where the profiles' segments begin: near enough to all of them for the first sums.
Vector2d middle_of(std::span<const Profile> profiles) {
    Vector2d sum = Vector2d::Zero();
    double count = 0.0;
    for (const Profile& profile : profiles) {
        for (const Segment& segment : profile.segments) {
            sum += start_point(segment);
            count += 1.0;
        }
    }
    return sum / count;
}

}  // namespace

AreaMoments::Principal AreaMoments::principal() const {
    const double mean = (xx_mm4 + yy_mm4) / 2.0;
    const double radius = std::hypot((xx_mm4 - yy_mm4) / 2.0, xy_mm4);
    // A negative zero would turn an axis of zero about.
    const double angle = radius > 0.0 ? 0.5 * std::atan2(-2.0 * xy_mm4 + 0.0, xx_mm4 - yy_mm4) : 0.0;
    // The least by the product, which the difference would lose in a slender section.
    const double greatest = mean + radius;
    const double product = xx_mm4 * yy_mm4 - xy_mm4 * xy_mm4;
    return {greatest, greatest > 0.0 ? std::min(greatest, product / greatest) : 0.0, radians(angle)};
}

Result<AreaMoments> area_moments(std::span<const Profile> profiles) {
    const auto invalid = [](const char* message) { return Error{ErrorCode::invalid_argument, message}; };
    if (profiles.empty()) {
        return invalid("A region needs at least one outline.");
    }
    for (const Profile& profile : profiles) {
        if (!profile.closed || profile.segments.empty()) {
            return invalid("Each outline of a region must be closed and have a segment.");
        }
    }
    const Vector2d base = middle_of(profiles);
    const Sums rough = sums_about(profiles, base);
    if (!std::isfinite(rough.area) || !rough.first.allFinite()) {
        return invalid("An outline of a region has a number that is not finite.");
    }
    if (!(rough.area > 0.0)) {
        return invalid("The outlines enclose no area: an outline runs anticlockwise, a hole clockwise.");
    }
    // Second moments about the centroid itself: nothing large is taken from something large.
    const Vector2d centroid = rough.first / rough.area;
    const Sums fine = sums_about(profiles, base + centroid);
    const Vector2d rest = fine.first / fine.area;
    return AreaMoments{fine.area, base + centroid + rest, fine.xx - fine.area * rest.y() * rest.y(),
                       fine.yy - fine.area * rest.x() * rest.x(), fine.xy - fine.area * rest.x() * rest.y()};
}

}  // namespace sillwright::geometry
