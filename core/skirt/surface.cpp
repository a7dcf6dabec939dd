#include "core/skirt/surface.h"

namespace sillwright::core {

using geometry::Length;

std::optional<Length> outward_offset(const Piece& piece, const std::optional<Entry>& paint, Surface surface) {
    if (surface == Surface::drawn) {
        return Length{};
    }
    const bool wants_outside = surface == Surface::outside || surface == Surface::painted_outside;
    const bool outside_drawn = piece.drawn_face == DrawnFace::outside;
    Length offset;
    if (wants_outside != outside_drawn) {
        if (!piece.sheet) {
            return std::nullopt;
        }
        offset = wants_outside ? piece.sheet->value : -piece.sheet->value;
    }
    if (surface == Surface::painted_outside) {
        if (!paint) {
            return std::nullopt;
        }
        offset = offset + paint->value;
    }
    return offset;
}

std::optional<geometry::SheetFaces> sheet_faces(const Piece& piece) {
    if (!piece.sheet) {
        return std::nullopt;
    }
    const std::optional<Entry> no_paint;
    return geometry::SheetFaces{*outward_offset(piece, no_paint, Surface::outside),
                                *outward_offset(piece, no_paint, Surface::inside), geometry::RingFace::outside};
}

}  // namespace sillwright::core
