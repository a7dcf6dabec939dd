#include "core/skirt/thickness.h"

#include <algorithm>

#include "core/car_model.h"
#include "core/forming/formed_sheet.h"
#include "core/skirt/flange_face.h"

namespace sillwright::core {

using geometry::Length;

namespace {

/// Half-way along the flange, of a piece that has one and whose formed thickness is computed.
std::optional<Length> formed_flange(const Piece& piece, Length along, const PieceModel* model) {
    if (model == nullptr || !model->formed || !model->line || !piece.sheet || !FlangeFace::drawn_on(*model->line)) {
        return std::nullopt;
    }
    const auto& names = model->line->names();
    const auto root = std::find(names.begin(), names.end(), k_flange_root);
    const double middle = static_cast<double>(root - names.begin()) + 0.5;
    return model->formed->share_at(along, middle) * piece.sheet->value;
}

}  // namespace

std::optional<Thickness> flange_thickness(const Piece& piece, Length along, const PieceModel* model) {
    const Flange& flange = piece.flange;
    const auto spread = [](Length thickness) { return thickness * (0.5 * k_forming_spread); };
    if (flange.thickness) {
        const Length own = flange.thickness->value;
        return Thickness{own, flange.thickness_sd ? flange.thickness_sd->value : spread(own), false, false};
    }
    if (const auto formed = formed_flange(piece, along, model)) {
        return Thickness{*formed, spread(*formed), false, true};
    }
    if (!piece.sheet) {
        return std::nullopt;
    }
    return Thickness{piece.sheet->value, spread(piece.sheet->value), true, false};
}

}  // namespace sillwright::core
