#include "core/skirt/flange_bend.h"

#include <cmath>

#include "core/skirt/surface.h"

namespace sillwright::core {

using geometry::Angle;
using geometry::in_rad;
using geometry::Length;

BendNumbers bend_numbers(Angle angle, Length inner_radius, Length sheet, double neutral_fraction, Angle springback) {
    return {(inner_radius + neutral_fraction * sheet) * in_rad(angle),
            (inner_radius + sheet) * std::tan(0.5 * in_rad(angle)), angle + springback};
}

std::optional<Length> drawn_radius(const Piece& piece, Length inner_radius, bool turns_left) {
    const auto hollow = outward_offset(piece, std::nullopt, turns_left ? Surface::outside : Surface::inside);
    if (!hollow) {
        return std::nullopt;
    }
    return inner_radius + (turns_left ? *hollow : -*hollow);
}

}  // namespace sillwright::core
