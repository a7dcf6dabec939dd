#pragma once

#include <optional>

#include "geometry/units.h"

namespace sillwright::geometry {

enum class BitShape { round_nose, flat, vee };

/// The form of a router bit's end.
///
/// Preconditions: the diameter is greater than zero; corner radius and flat are not negative, and no greater than half
///   the diameter (a flat of a V: than the diameter); a V's angle is between zero and a half turn.
struct RouterBit {
    BitShape shape = BitShape::round_nose;
    Length diameter;
    Angle angle{};           ///< Between the flanks of a V.
    Length corner_radius{};  ///< Of a flat bit's corners, or of a V's point.
    Length flat{};           ///< Across a V's point that is cut off; it goes before a radius.
};

/// Width of a straight cut at the surface.
///
/// Shape: round nose, radius r: 2 sqrt(d (2 r - d)), from r downward 2 r. Flat: the diameter; with corners of radius c,
///   above c: diameter - 2 c + 2 sqrt(d (2 c - d)). V: flat + 2 d tan(a/2), with a round point 2 sqrt(d (2 c - d)) as
///   far as the rounding goes, no more than the diameter. A depth of zero or less is no cut: zero.
/// Accuracy: rounding.
/// Source: plane geometry.
Length cut_width(const RouterBit& bit, Length depth);

/// Least depth at which a cut is that wide; no value for a width that the bit never cuts: more than its diameter, or
/// less than what it cuts at once.
std::optional<Length> depth_for_width(const RouterBit& bit, Length width);

/// Between the surface and the cut's wall where they meet: a right angle for a full bit. Zero without a cut.
Angle mouth_angle(const RouterBit& bit, Length depth);

/// Of the cut's two corners at its bottom; of a round nose its own.
Length bottom_radius(const RouterBit& bit);

/// What stands between two neighbouring runs of a round nose: R - sqrt(R^2 - (s/2)^2); the whole radius where the runs
/// are further apart than its diameter.
Length scallop_height(Length radius, Length step);

/// Runs at growing depth that a cut takes: depth / (share · radius), rounded up; none without depth.
/// Precondition: share and radius are greater than zero.
int passes(Length depth, Length radius, double share);

/// From a template's edge to the cut's, with a guide bush: (bush - bit) / 2.
Length bush_offset(Length bush_outer, Length bit);

}  // namespace sillwright::geometry
