#include "tests/bench/loft_measure.h"

#include <cmath>
#include <utility>
#include <vector>

namespace sillwright::bench {

using geometry::Loft;
using geometry::LoftNode;
using geometry::LoftSection;
using geometry::millimetres;

Loft bench_loft() {
    std::vector<LoftSection> sections;
    for (int i = 0; i < 12; ++i) {
        const double s = 170.0 * i;
        const double bow = 14.0 * std::sin(s / 600.0);
        const double drop = 6.0 * std::cos(s / 450.0);
        const auto node = [&](const char* name, double out, double up, double radius) {
            return LoftNode{name, {out + bow, up + drop}, millimetres(radius)};
        };
        sections.push_back({millimetres(s),
                            {node("top return end", 2.0, 172.0, 0.0), node("shelf inner", 12.0, 168.0, 6.0),
                             node("shelf edge", 58.0 + s / 200.0, 150.0, 14.0), node("bead", 66.0, 120.0, 5.0),
                             node("knee", 60.0, 80.0 - s / 300.0, 20.0), node("lower edge", 72.0, 30.0, 15.0),
                             node("flange root", 30.0, 20.0, 6.0), node("flange end", -12.0, 24.0, 0.0)}});
    }
    return Loft::make(sections, {}, false).value();
}

geometry::SheetFaces bench_faces() {
    return {millimetres(3.0), millimetres(0.0), geometry::RingFace::outside};
}

geometry::Length bench_tolerance() {
    return millimetres(0.02);
}

geometry::RingMesh mesh_of_sections(const Loft& drawn) {
    const Loft loft = Loft::make(drawn.sections(), {}, false).value();
    const auto layout = layout_of_sheet(loft, bench_faces(), 0.5 * bench_tolerance()).value();
    return mesh_of(sheet_ring(loft, bench_faces(), layout).value(), bench_tolerance()).value();
}

}  // namespace sillwright::bench
