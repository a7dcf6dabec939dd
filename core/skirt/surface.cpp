#include "core/skirt/surface.h"

#include <algorithm>
#include <vector>

#include "core/skirt/flange_face.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::OffsetLaw;

namespace {

/// Of the sheet's thickness, how much a surface stands out from the drawn line: 1, -1, or 0 on that line.
double sheets_out(const Piece& piece, Surface surface, MouldKind mould) {
    if (surface == Surface::mould_face) {
        return sheets_out(piece, mould == MouldKind::male ? Surface::inside : Surface::outside, mould);
    }
    const bool wants_outside = surface == Surface::outside || surface == Surface::painted_outside;
    if (surface == Surface::drawn || wants_outside == (piece.drawn_face == DrawnFace::outside)) {
        return 0.0;
    }
    return wants_outside ? 1.0 : -1.0;
}

/// From the flange's root on the law has one value; before it, it goes there over the blend.
void put_flange(OffsetLaw& law, double root, double value_mm) {
    const double blend = root - k_flange_blend;
    std::vector<double> marks;
    std::copy_if(law.marks.begin(), law.marks.end(), std::back_inserter(marks), [&](double m) { return m < blend; });
    const std::size_t kept = marks.size();
    marks.push_back(blend);
    marks.push_back(root);
    std::vector<double> mm;
    for (const Length row : law.rows) {
        const geometry::OffsetRow before = law.at(row);
        mm.insert(mm.end(), before.mm.begin(), before.mm.begin() + static_cast<std::ptrdiff_t>(kept));
        mm.push_back(before.at(blend));
        mm.push_back(value_mm);
    }
    law.marks = std::move(marks);
    law.mm = std::move(mm);
}

}  // namespace

std::optional<Length> outward_offset(const Piece& piece, const std::optional<Entry>& paint, Surface surface,
                                     MouldKind mould) {
    const double sheets = sheets_out(piece, surface, mould);
    if ((sheets != 0.0 && !piece.sheet) || (surface == Surface::painted_outside && !paint)) {
        return std::nullopt;
    }
    Length offset;
    if (sheets != 0.0) {
        offset = sheets > 0.0 ? piece.sheet->value : -piece.sheet->value;
    }
    return surface == Surface::painted_outside ? offset + paint->value : offset;
}

std::optional<geometry::SheetFaces> sheet_faces(const Piece& piece) {
    if (!piece.sheet) {
        return std::nullopt;
    }
    const std::optional<Entry> no_paint;
    return geometry::SheetFaces{*outward_offset(piece, no_paint, Surface::outside),
                                *outward_offset(piece, no_paint, Surface::inside), geometry::RingFace::outside};
}

std::optional<OffsetLaw> thickness_law(const Piece& piece, const geometry::Loft& line, const FormedSheet* formed) {
    if (!piece.sheet) {
        return std::nullopt;
    }
    if (formed == nullptr) {
        return OffsetLaw::same(piece.sheet->value);
    }
    OffsetLaw law{formed->rows, formed->marks, {}};
    for (const std::vector<double>& shares : formed->shares) {
        for (const double share : shares) {
            law.mm.push_back(share * in_mm(piece.sheet->value));
        }
    }
    const auto root = std::find(line.names().begin(), line.names().end(), k_flange_root);
    if (piece.flange.thickness && root != line.names().end()) {
        put_flange(law, static_cast<double>(root - line.names().begin()), in_mm(piece.flange.thickness->value));
    }
    return law;
}

std::optional<OffsetLaw> outward_law(const Piece& piece, const geometry::Loft& line, const FormedSheet* formed,
                                     const std::optional<Entry>& paint, Surface surface, MouldKind mould) {
    const auto offset = outward_offset(piece, paint, surface, mould);
    const double sheets = sheets_out(piece, surface, mould);
    if (!offset || sheets == 0.0 || formed == nullptr) {
        return offset ? std::optional(OffsetLaw::same(*offset)) : std::nullopt;
    }
    auto law = thickness_law(piece, line, formed);
    const double film = surface == Surface::painted_outside ? in_mm(paint->value) : 0.0;
    for (double& mm : law->mm) {
        mm = sheets * mm + film;
    }
    return law;
}

std::optional<geometry::VaryingFaces> varying_faces(const Piece& piece, const geometry::Loft& line,
                                                    const FormedSheet* formed) {
    const std::optional<Entry> no_paint;
    auto outside = outward_law(piece, line, formed, no_paint, Surface::outside);
    auto inside = outward_law(piece, line, formed, no_paint, Surface::inside);
    if (!piece.sheet || !outside || !inside) {
        return std::nullopt;
    }
    return geometry::VaryingFaces{std::move(*outside), std::move(*inside), geometry::RingFace::outside};
}

}  // namespace sillwright::core
