#include "core/skirt/sheet_body.h"

#include <algorithm>
#include <cassert>

#include "core/skirt/surface.h"

namespace sillwright::core {

using geometry::Length;
using geometry::Loft;
using geometry::Result;

namespace {

void widen_counts(std::vector<std::size_t>& counts, const std::vector<std::size_t>& other) {
    counts.resize(std::max(counts.size(), other.size()), 0);
    for (std::size_t i = 0; i < other.size(); ++i) {
        counts[i] = std::max(counts[i], other[i]);
    }
}

}  // namespace

void widen(SheetLayout& layout, const SheetLayout& other) {
    widen_counts(layout.same.left, other.same.left);
    widen_counts(layout.same.right, other.same.right);
    geometry::widen(layout.varying, other.varying);
}

Result<SheetLayout> layout_of_piece(const Piece& piece, const Loft& line, const FormedSheet* formed, Length sagitta) {
    assert(piece.sheet);
    if (formed == nullptr) {
        return geometry::layout_of_sheet(line, *sheet_faces(piece), sagitta)
            .transform([](const geometry::RingLayout& layout) {
                return SheetLayout{layout, {}};
            });
    }
    return geometry::layout_of_varying_sheet(line, *varying_faces(piece, line, formed), sagitta)
        .transform([](const geometry::VaryingLayout& layout) {
            return SheetLayout{{}, layout};
        });
}

Result<geometry::RingBody> sheet_body(const Piece& piece, const Loft& line, const FormedSheet* formed,
                                      const SheetLayout& layout) {
    assert(piece.sheet);
    return formed == nullptr ? geometry::sheet_ring(line, *sheet_faces(piece), layout.same)
                             : geometry::varying_sheet_ring(line, *varying_faces(piece, line, formed), layout.varying);
}

Result<geometry::RingBody> sheet_body(const Piece& piece, const Loft& line, const FormedSheet* formed, Length sagitta) {
    return layout_of_piece(piece, line, formed, sagitta).and_then([&](const SheetLayout& layout) {
        return sheet_body(piece, line, formed, layout);
    });
}

}  // namespace sillwright::core
