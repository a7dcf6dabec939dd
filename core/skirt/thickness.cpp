#include "core/skirt/thickness.h"

namespace sillwright::core {

std::optional<Thickness> flange_thickness(const Piece& piece, geometry::Length /*along*/) {
    const Flange& flange = piece.flange;
    const auto& known = flange.thickness ? flange.thickness : piece.sheet;
    if (!known) {
        return std::nullopt;
    }
    const bool own_sd = flange.thickness && flange.thickness_sd;
    return Thickness{known->value, own_sd ? flange.thickness_sd->value : known->value * (0.5 * k_forming_spread),
                     !flange.thickness};
}

}  // namespace sillwright::core
