#include "core/skirt/piece_solid.h"

#include <cassert>

#include "core/skirt/surface.h"
#include "geometry/kernel/make_solid.h"
#include "geometry/sheet_ring.h"

namespace sillwright::core {

geometry::Result<geometry::Shape> piece_solid(const Piece& piece, const PieceModel& model, geometry::Length fit) {
    const auto faces = sheet_faces(piece);
    assert(faces && model.line && model.body && model.body->ring);
    auto solid = geometry::layout_of_sheet(*model.line, *faces, fit)
                     .and_then([&](const geometry::RingLayout& layout) {
                         return geometry::sheet_ring(*model.line, *faces, layout);
                     })
                     .and_then([&](const geometry::RingBody& body) {
                         return geometry::make_solid(body, *model.body->ring, fit);
                     });
    if (!solid) {
        return geometry::Error{solid.error().code, "skirt piece \"" + piece.name + "\": " + solid.error().message};
    }
    return solid;
}

}  // namespace sillwright::core
