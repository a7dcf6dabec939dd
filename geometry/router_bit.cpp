#include "geometry/router_bit.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sillwright::geometry {

namespace {

/// So that a depth of just so many passes is not rounded up to one more; of a pass.
constexpr double k_pass_slack = 1e-9;

/// Half the chord of a circle `depth` below its top.
double half_chord(double radius, double depth) {
    return std::sqrt(std::max(0.0, depth * (2.0 * radius - depth)));
}

/// A bit's end seen from the side: a flat, a quarter round or less beside it, a flank that leans.
struct End {
    double half = 0.0;       ///< Of the diameter.
    double flat_half = 0.0;  ///< As deep as the bit goes.
    double radius = 0.0;     ///< Of the rounding beside it.
    double round_to = 0.0;   ///< Height up to which that goes.
    double slope = 0.0;      ///< Of what follows: width for height.
};

End end_of(const RouterBit& bit) {
    End end;
    end.half = in_mm(bit.diameter) / 2.0;
    switch (bit.shape) {
        case BitShape::round_nose:
            end.radius = end.round_to = end.half;
            break;
        case BitShape::flat:
            end.radius = end.round_to = in_mm(bit.corner_radius);
            end.flat_half = end.half - end.radius;
            break;
        case BitShape::vee: {
            const double half_angle = in_rad(bit.angle) / 2.0;
            end.slope = std::tan(half_angle);
            end.flat_half = in_mm(bit.flat) / 2.0;
            if (end.flat_half <= 0.0) {
                end.radius = in_mm(bit.corner_radius);
                end.round_to = end.radius * (1.0 - std::sin(half_angle));
            }
            break;
        }
    }
    return end;
}

double half_width_at(const End& end, double depth) {
    if (depth <= 0.0) {
        return 0.0;
    }
    const double round = half_chord(end.radius, std::min(depth, end.round_to));
    const double flank = std::max(0.0, depth - end.round_to) * end.slope;
    return std::min(end.half, end.flat_half + round + flank);
}

}  // namespace

Length cut_width(const RouterBit& bit, Length depth) {
    return millimetres(2.0 * half_width_at(end_of(bit), in_mm(depth)));
}

std::optional<Length> depth_for_width(const RouterBit& bit, Length width) {
    const End end = end_of(bit);
    const double half = in_mm(width) / 2.0;
    if (!(half > 0.0) || half > end.half || half < end.flat_half) {
        return std::nullopt;
    }
    const double round_half = half_chord(end.radius, end.round_to);
    if (half <= end.flat_half + round_half) {
        const double beside = half - end.flat_half;
        return millimetres(end.radius - std::sqrt(std::max(0.0, end.radius * end.radius - beside * beside)));
    }
    if (end.slope <= 0.0) {
        return std::nullopt;
    }
    return millimetres(end.round_to + (half - end.flat_half - round_half) / end.slope);
}

Angle mouth_angle(const RouterBit& bit, Length depth) {
    const End end = end_of(bit);
    const double d = in_mm(depth);
    if (d <= 0.0) {
        return {};
    }
    if (d < end.round_to) {
        return radians(std::acos((end.radius - d) / end.radius));
    }
    if (end.slope <= 0.0 || half_width_at(end, d) >= end.half) {
        return radians(std::numbers::pi / 2.0);
    }
    return radians(std::numbers::pi / 2.0 - std::atan(end.slope));
}

Length bottom_radius(const RouterBit& bit) {
    return millimetres(end_of(bit).radius);
}

Length scallop_height(Length radius, Length step) {
    const double r = in_mm(radius);
    const double half = std::min(std::abs(in_mm(step)) / 2.0, r);
    return millimetres(r - std::sqrt(r * r - half * half));
}

int passes(Length depth, Length radius, double share) {
    if (!(depth > Length{})) {
        return 0;
    }
    return std::max(1, static_cast<int>(std::ceil(depth / (share * radius) - k_pass_slack)));
}

Length bush_offset(Length bush_outer, Length bit) {
    return 0.5 * (bush_outer - bit);
}

}  // namespace sillwright::geometry
