#include "core/survey/shown.h"

#include <Eigen/Geometry>
#include <cassert>
#include <cmath>

#include "core/survey/start.h"

namespace sillwright::core::survey {

using Eigen::Vector2d;
using Eigen::Vector3d;

Vector3d plumb_up(const Vector2d& lean_rad) {
    const double roll = lean_rad.x();
    const double pitch = lean_rad.y();
    return {std::sin(pitch), std::sin(roll) * std::cos(pitch), std::cos(roll) * std::cos(pitch)};
}

namespace {

using Points = std::span<const Vector3d>;

/// A direction whose outer (or upper) part is smaller runs across the car: six degrees.
constexpr double k_across = 0.1;
/// Sines below this have lost half their digits: no direction is left to differentiate by.
constexpr double k_no_sine = 1e-8;
/// Points nearer than this are one: far below anything that is measured.
constexpr double k_same_mm = 1e-9;

/// Derivatives of plumb_up by roll and pitch, one column each.
Eigen::Matrix<double, 3, 2> plumb_up_by_lean(const Vector2d& lean_rad) {
    const double roll = lean_rad.x();
    const double pitch = lean_rad.y();
    Eigen::Matrix<double, 3, 2> by;
    by << 0.0, std::cos(pitch),                                               //
        std::cos(roll) * std::cos(pitch), -std::sin(roll) * std::sin(pitch),  //
        -std::sin(roll) * std::cos(pitch), -std::cos(roll) * std::sin(pitch);
    return by;
}

Shown distance(Points p) {
    Shown s;
    const Vector3d run = p[1] - p[0];
    s.value = run.norm();
    if (s.value > k_same_mm) {
        s.by_point.col(1) = run / s.value;
        s.by_point.col(0) = -s.by_point.col(1);
    }
    return s;
}

Shown along_direction(Points p, const Vector3d& direction) {
    Shown s;
    s.value = direction.dot(p[1] - p[0]);
    s.by_point.col(0) = -direction;
    s.by_point.col(1) = direction;
    return s;
}

Shown height(Points p, const Vector2d& lean_rad) {
    Shown s = along_direction(p, plumb_up(lean_rad));
    s.by_lean = plumb_up_by_lean(lean_rad).transpose() * (p[1] - p[0]);
    return s;
}

double sign_of(double x) {
    return x < 0.0 ? -1.0 : 1.0;
}

double outward_sign(const Vector3d& n) {
    return std::abs(n.y()) >= k_across ? sign_of(n.y()) : sign_of(n.x());
}

double outward_or_upward_sign(const Vector3d& n) {
    if (std::abs(n.y()) < k_across && std::abs(n.z()) < k_across) {
        return sign_of(n.x());
    }
    return std::abs(n.y()) >= std::abs(n.z()) ? sign_of(n.y()) : sign_of(n.z());
}

/// Distance of q from the plane through the origin square to sign·cross, and its derivatives by q (the unit normal) and
/// by `cross`.
struct FromPlane {
    double value;
    Vector3d by_q, by_cross;
};

template <class Sign>
FromPlane from_plane(const Vector3d& cross, const Vector3d& q, const Sign& sign) {
    const double size = cross.norm();
    if (!(size > k_same_mm)) {
        return {0.0, Vector3d::Zero(), Vector3d::Zero()};
    }
    Vector3d n = cross / size;
    const double s = sign(n);
    n *= s;
    const double value = n.dot(q);
    return {value, n, s / size * (q - n * value)};
}

Shown offset(Points p, const Vector2d& lean_rad) {
    const Vector3d up = plumb_up(lean_rad);
    const Vector3d string = p[1] - p[0];
    const FromPlane from = from_plane(up.cross(string), p[2] - p[0], outward_sign);
    const Vector3d by_string = from.by_cross.cross(up);
    Shown s;
    s.value = from.value;
    s.by_point.col(0) = -from.by_q - by_string;
    s.by_point.col(1) = by_string;
    s.by_point.col(2) = from.by_q;
    s.by_lean = plumb_up_by_lean(lean_rad).transpose() * string.cross(from.by_cross);
    return s;
}

Shown from_three_points(Points p) {
    const Vector3d e = p[1] - p[0];
    const Vector3d f = p[2] - p[0];
    const FromPlane from = from_plane(e.cross(f), p[3] - p[0], outward_or_upward_sign);
    Shown s;
    s.value = from.value;
    s.by_point.col(1) = f.cross(from.by_cross);
    s.by_point.col(2) = from.by_cross.cross(e);
    s.by_point.col(3) = from.by_q;
    s.by_point.col(0) = -s.by_point.col(1) - s.by_point.col(2) - s.by_point.col(3);
    return s;
}

Shown gauge(int number, Points p, double tilt_rad) {
    const double c = std::cos(tilt_rad);
    const double s = std::sin(tilt_rad);
    if (number == 2) {
        return along_direction(p, Vector3d::UnitX());
    }
    const Vector3d direction = number == 0 ? Vector3d(0.0, c, s) : Vector3d(0.0, -s, c);
    const Vector3d turned = number == 0 ? Vector3d(0.0, -s, c) : Vector3d(0.0, -c, -s);
    Shown shown = along_direction(p, direction);
    shown.by_tilt = turned.dot(p[1] - p[0]);
    return shown;
}

Shown angle(Points p) {
    const Vector3d to_b = p[1] - p[0];
    const Vector3d to_c = p[2] - p[0];
    const double b = to_b.norm();
    const double c = to_c.norm();
    Shown s;
    const double sine_bc = to_b.cross(to_c).norm();
    s.value = std::atan2(sine_bc, to_b.dot(to_c));
    if (!(b > k_same_mm && c > k_same_mm && sine_bc > k_no_sine * b * c)) {
        return s;
    }
    const Vector3d u = to_b / b;
    const Vector3d v = to_c / c;
    const double sine = sine_bc / (b * c);
    const double cosine = u.dot(v);
    s.by_point.col(1) = -(v - u * cosine) / (sine * b);
    s.by_point.col(2) = -(u - v * cosine) / (sine * c);
    s.by_point.col(0) = -s.by_point.col(1) - s.by_point.col(2);
    return s;
}

Shown slope(Points p, const Vector2d& lean_rad) {
    const Vector3d up = plumb_up(lean_rad);
    const Vector3d run = p[1] - p[0];
    const double size = run.norm();
    const double rise = up.dot(run);
    const double level = (run - up * rise).norm();
    Shown s;
    s.value = std::atan2(rise, level);
    if (!(size > k_same_mm && level > k_no_sine * size)) {
        return s;
    }
    const Vector3d u = run / size;
    s.by_point.col(1) = (up - u * (rise / size)) / level;
    s.by_point.col(0) = -s.by_point.col(1);
    s.by_lean = plumb_up_by_lean(lean_rad).transpose() * run / level;
    return s;
}

}  // namespace

int point_count(ReadingKind kind) {
    switch (kind) {
        case ReadingKind::plane:
            return 4;
        case ReadingKind::offset:
        case ReadingKind::angle:
            return 3;
        default:
            return 2;
    }
}

int number_count(ReadingKind kind) {
    return kind == ReadingKind::gauge ? 3 : 1;
}

const char* number_name(ReadingKind kind, int number) {
    if (kind != ReadingKind::gauge) {
        return "";
    }
    return number == 0 ? "out" : number == 1 ? "up" : "along";
}

Shown shown(ReadingKind kind, int number, Points points_mm, const Vector2d& lean_rad, double tilt_rad) {
    assert(static_cast<int>(points_mm.size()) == point_count(kind) && number >= 0 && number < number_count(kind));
    switch (kind) {
        case ReadingKind::tie:
        case ReadingKind::gap:
        case ReadingKind::depth:
            return distance(points_mm);
        case ReadingKind::height:
            return height(points_mm, lean_rad);
        case ReadingKind::offset:
            return offset(points_mm, lean_rad);
        case ReadingKind::plane:
            return from_three_points(points_mm);
        case ReadingKind::along:
            return along_direction(points_mm, Vector3d::UnitX());
        case ReadingKind::out:
            return along_direction(points_mm, Vector3d::UnitY());
        case ReadingKind::up:
            return along_direction(points_mm, Vector3d::UnitZ());
        case ReadingKind::gauge:
            return gauge(number, points_mm, tilt_rad);
        case ReadingKind::angle:
            return angle(points_mm);
        case ReadingKind::slope:
            return slope(points_mm, lean_rad);
    }
    return {};
}

}  // namespace sillwright::core::survey
