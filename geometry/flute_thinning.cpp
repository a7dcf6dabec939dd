#include "geometry/flute_thinning.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sillwright::geometry {

using std::numbers::pi;

namespace {

/// A wall as good as square: its tangent is no longer of use.
constexpr double k_square = 1e-6;
/// Strips of Simpson's rule; even. Their fourth power is far below what is promised.
constexpr int k_strips = 64;

bool is_square(double wall) {
    return pi / 2.0 - wall < k_square;
}

/// sin b / b: an arc that turns by 2 b, of its chord.
double bulge(double b) {
    return b > 0.0 ? std::sin(b) / b : 1.0;
}

/// What is left in a corner that is filled from one rounding's radius down to another's.
double corner_fill(double wall, double from_radius, double to_radius) {
    if (to_radius >= from_radius) {
        return 1.0;
    }
    return std::pow(std::max(0.0, to_radius) / from_radius, 2.0 * std::tan(wall / 2.0) / wall - 1.0);
}

/// d ln(thickness) by way along the floor, while the free arc stands on the floor `a` from the mouth's edge.
double spread_rate(double a, double depth) {
    const double turned = 2.0 * std::atan(depth / a);
    const double arc = turned * (a * a + depth * depth) / (2.0 * depth);
    return (2.0 - turned * a / depth) / arc;
}

/// What is left after the bulge has spread over the floor from `from` to `to` away from the mouth's edge.
double spread(double from, double to, double depth) {
    if (to >= from) {
        return 1.0;
    }
    const double step = (from - to) / k_strips;
    double sum = spread_rate(from, depth) + spread_rate(to, depth);
    for (int i = 1; i < k_strips; ++i) {
        sum += (i % 2 == 1 ? 4.0 : 2.0) * spread_rate(to + i * step, depth);
    }
    return std::exp(-sum * step / 3.0);
}

}  // namespace

double wedge_share(Angle wall, double part_of_depth) {
    const double b = in_rad(wall);
    return bulge(b) * std::pow(1.0 - part_of_depth, std::tan(b) / b - 1.0);
}

double square_trough_share(double depth_in_widths) {
    return 2.0 / pi * std::exp(-4.0 * depth_in_widths / pi);
}

GrooveShares groove_shares(const Groove& groove) {
    const double half = in_mm(groove.width) / 2.0;
    const double depth = in_mm(groove.depth);
    const double radius = in_mm(groove.bottom_radius);
    double wall = in_rad(groove.wall);
    if (radius * (1.0 - std::cos(wall)) > depth) {
        wall = std::acos(1.0 - depth / radius);
    }
    const double touches = 2.0 * std::atan(depth / half);  // half the bulge's turn when it touches the floor
    GrooveShares shares;
    if (touches <= wall) {
        shares.middle = bulge(touches);
        const double at_wall = depth / std::tan(wall / 2.0);
        shares.corner =
            shares.middle * spread(half, at_wall, depth) * corner_fill(wall, at_wall / std::sin(wall), radius);
        return shares;
    }
    const double lean = is_square(wall) ? 0.0 : 1.0 / std::tan(wall);
    const double down = (depth - half * std::tan(wall / 2.0)) / (1.0 - lean * std::tan(wall / 2.0));
    shares.middle = is_square(wall) ? square_trough_share(down / (2.0 * half))
                                    : wedge_share(radians(wall), down / (half * std::tan(wall)));
    shares.corner = shares.middle * corner_fill(wall, (half - down * lean) / std::sin(wall), radius);
    return shares;
}

}  // namespace sillwright::geometry
