#include "core/forming/mould_faces.h"

#include <algorithm>
#include <optional>

#include "core/drawn_loft.h"
#include "core/skirt/flange_face.h"
#include "core/skirt/flange_findings.h"
#include "core/skirt/surface.h"

namespace sillwright::core {

using geometry::Length;
using geometry::Loft;
using geometry::LoftStretch;
using geometry::NodeCourse;
using geometry::SectionFace;

namespace {

/// Nodes nearer than this are at one place.
constexpr double k_same_place_mm = 1e-9;

Length lies_on_mould(const Job& job, const Piece& piece) {
    const bool female = job.forming.mould == MouldKind::female;
    const auto offset = job.forming.mould
                            ? outward_offset(piece, std::nullopt, female ? Surface::outside : Surface::mould_face)
                            : std::nullopt;
    return offset.value_or(Length{});
}

std::size_t flange_root(const Loft& line) {
    const auto& names = line.names();
    return static_cast<std::size_t>(std::find(names.begin(), names.end(), k_flange_root) - names.begin());
}

/// The flange's end put where it is formed: on the straight that comes to the root.
void lay_flange_on(std::vector<NodeCourse>& nodes, std::size_t root) {
    std::size_t before = root;
    while (before > 0 && (nodes[before].p_mm - nodes[root].p_mm).norm() < k_same_place_mm) {
        --before;
    }
    const double strip = (nodes[root].p_mm - nodes[before].p_mm).norm();
    if (strip < k_same_place_mm) {
        return;
    }
    NodeCourse& end = nodes[root + 1];
    const double times = (end.p_mm - nodes[root].p_mm).norm() / strip;
    end.p_mm = nodes[root].p_mm + times * (nodes[root].p_mm - nodes[before].p_mm);
    end.rate = nodes[root].rate + times * (nodes[root].rate - nodes[before].rate);
    nodes[root].radius = Length{};
    nodes[root].radius_rate = 0.0;
}

}  // namespace

bool flange_lies_on(const Piece& piece, const Loft& line) {
    return piece.flange.making == FlangeMaking::bent_after && FlangeFace::drawn_on(line);
}

geometry::Result<std::vector<SectionFace>> mould_faces_at(const Job& job, const Piece& piece, const Loft& line,
                                                          const LoftStretch& stretch, Length along) {
    auto nodes = stretch.at(along);
    if (flange_lies_on(piece, line)) {
        lay_flange_on(nodes, flange_root(line));
    }
    return geometry::section_faces(nodes, line.names(), lies_on_mould(job, piece));
}

MouldFaces mould_faces(const Job& job, const Piece& piece, const Loft& line) {
    MouldFaces all;
    all.names = line.names();
    const auto keys = line.key_places();
    for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
        const LoftStretch stretch(line, keys[i], keys[i + 1]);
        for (int k = 0; k <= k_between + 1; ++k) {
            const bool last = k == k_between + 1;
            const Length along =
                last ? keys[i + 1] : keys[i] + (keys[i + 1] - keys[i]) * (static_cast<double>(k) / (k_between + 1));
            auto faces = mould_faces_at(job, piece, line, stretch, along);
            if (faces) {
                all.sections.push_back({along, i, std::move(faces).value()});
            } else {
                all.faults.push_back(at_place_words(job, along) + " " + faces.error().message);
            }
        }
    }
    return all;
}

}  // namespace sillwright::core
