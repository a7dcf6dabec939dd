#pragma once

#include <string>
#include <utility>

#include "core/drawn_loft.h"
#include "core/job.h"
#include "geometry/loft.h"

namespace sillwright::core {

inline Entry forming_mm(double value) {
    return {geometry::millimetres(value), ""};
}

/// A U open to the car, sharp and straight: its face stands upright at out 150 from up 180 down to up 0, its shelf and
/// its flange run 40 inward; two stations, 1000 mm apart. Over a male mould tilted by nothing it is a flat top of 180
/// with upright walls.
inline Job u_job(MouldKind mould = MouldKind::male) {
    Job job;
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = forming_mm(3.0);
    for (int i = 0; i < 2; ++i) {
        const std::string n = std::to_string(i + 1);
        job.stations.push_back(Station{n, forming_mm(1000.0 * i), {}});
        const auto node = [&n](const std::string& name, double out, double up) {
            return Node{n + " " + name, name, forming_mm(out), forming_mm(up), forming_mm(0.0), {}};
        };
        piece.drawn.sections.push_back(Section{n,
                                               {node("shelf inner", 110, 180), node("shelf edge", 150, 180),
                                                node("flange root", 150, 0), node("flange end", 110, 0)},
                                               {}});
    }
    job.skirt.pieces.push_back(std::move(piece));
    job.forming.mould = mould;
    job.forming.clamp_distance = forming_mm(120.0);
    return job;
}

inline geometry::Loft u_line(const Job& job) {
    return loft_of(job, job.skirt.pieces.front().drawn, false, "skirt").value();
}

}  // namespace sillwright::core
