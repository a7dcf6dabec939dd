#include "core/skirt/end_cap.h"

#include <algorithm>
#include <memory>

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Length;
using geometry::Result;
using geometry::Ring;
using geometry::RingBody;
using geometry::RingFace;
using geometry::RingStrip;

namespace {

/// The ring points on the sheet's inside, first and count; the strips of one face stand together.
struct Run {
    std::size_t first = 0, count = 0;
};

Run inside_run(const RingBody& sheet) {
    Run run;
    for (const RingStrip& strip : sheet.strips) {
        if (strip.face != RingFace::inside) {
            continue;
        }
        if (run.count == 0) {
            run = {strip.first_segment, 1};
        }
        run.count += strip.segment_count;
    }
    return run;
}

}  // namespace

Result<geometry::Mesh> end_cap(const RingBody& sheet, End end, Length thickness, Length deviation) {
    const Length front = sheet.key_places.front();
    const Length rear = sheet.key_places.back();
    if (!(rear - front > thickness)) {
        return Error{ErrorCode::does_not_fit,
                     "the piece is shorter than its end cap is thick. Make it longer, or leave the end open."};
    }
    const Length from = end == End::front ? front : rear - thickness;
    const Length to = end == End::front ? front + thickness : rear;
    const Run run = inside_run(sheet);
    RingBody plate;
    plate.point_count = run.count;
    plate.strips = {{RingFace::edge, geometry::StripShape::line, 0, 0, 0, run.count}};
    plate.key_places.push_back(from);
    std::copy_if(sheet.key_places.begin(), sheet.key_places.end(), std::back_inserter(plate.key_places),
                 [&](Length place) { return place > from && place < to; });
    plate.key_places.push_back(to);
    plate.outline = [whole = std::make_shared<Ring>(), outline = sheet.outline, run](Length along, Ring& ring) {
        const geometry::Status made = outline(along, *whole);
        if (made) {
            const auto first = whole->points_mm.begin() + static_cast<std::ptrdiff_t>(run.first);
            ring.points_mm.assign(first, first + static_cast<std::ptrdiff_t>(run.count));
            ring.sagitta = whole->sagitta;
        }
        return made;
    };
    return geometry::mesh_of(plate, deviation).transform([](const geometry::RingMesh& ring) { return ring.mesh; });
}

}  // namespace sillwright::core
