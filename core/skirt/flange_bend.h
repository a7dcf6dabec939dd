#pragma once

#include <optional>

#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// What a bend needs to be set out on flat sheet.
///
/// Units and frame: lengths along the sheet, in the section plane.
/// Source: bend geometry (arc of the neutral line; tangent triangles). How far in
///   the neutral line lies, and the springback, are the maker's own figures: common
///   practice for plastic sheet 0.4 to 0.45 and 2 to 4 degrees, no source.
struct BendNumbers {
    geometry::Length allowance;  ///< Neutral line in the bend: angle · (R + K t), angle in radians.
    geometry::Length setback;    ///< From the sharp outside corner to where the bend begins: (R + t) · tan(angle / 2).
    geometry::Angle bend_to;     ///< Angle to bend to, so that it springs back to the one wanted.
};

/// Where the numbers come from, as a finding says it.
inline constexpr const char* k_bend_source = "bend geometry; neutral line and springback: common practice, no source";

/// `angle` is how far the sheet is turned: 90 degrees for a square corner.
/// Precondition: lengths not negative, 0 <= angle < 180 degrees.
BendNumbers bend_numbers(geometry::Angle angle, geometry::Length inner_radius, geometry::Length sheet,
                         double neutral_fraction, geometry::Angle springback);

/// Radius on the drawn line of a bend whose hollow side has the given radius; no
/// value if the sheet's thickness is needed and not known.
/// `turns_left` as seen along the drawn line; the outside lies on its left.
std::optional<geometry::Length> drawn_radius(const Piece& piece, geometry::Length inner_radius, bool turns_left);

}  // namespace sillwright::core
