#include "core/skirt/piece_solid.h"

#include <cassert>

#include "core/skirt/sheet_body.h"
#include "geometry/kernel/make_solid.h"

namespace sillwright::core {

geometry::Result<geometry::Shape> piece_solid(const Piece& piece, const PieceModel& model, geometry::Length fit) {
    assert(piece.sheet && model.line && model.body && model.body->ring);
    auto solid = sheet_body(piece, *model.line, model.formed.get(), fit).and_then([&](const geometry::RingBody& body) {
        return geometry::make_solid(body, *model.body->ring, fit);
    });
    if (!solid) {
        return geometry::Error{solid.error().code, "skirt piece \"" + piece.name + "\": " + solid.error().message};
    }
    return solid;
}

}  // namespace sillwright::core
