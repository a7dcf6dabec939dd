// Loft of 12 stations and 8 names to a closed sheet mesh within 0.02 mm, and a
// node dragged at one station.
#include <benchmark/benchmark.h>

#include <cmath>
#include <string>

#include "geometry/sheet_ring.h"

namespace sillwright::geometry {
namespace {

constexpr Length k_tolerance = millimetres(0.02);

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

const SheetFaces k_faces{millimetres(3.0), millimetres(0.0), RingFace::outside};

void LoftToSheetMesh(benchmark::State& state) {
    const Loft drawn = bench_loft();
    std::size_t triangles = 0;
    double deviation = 0.0;
    for (auto _ : state) {
        const Loft loft = Loft::make(drawn.sections(), {}, false).value();
        const auto layout = layout_of_sheet(loft, k_faces, 0.5 * k_tolerance).value();
        const auto mesh = mesh_of(sheet_ring(loft, k_faces, layout).value(), k_tolerance).value();
        triangles = mesh.mesh.triangles.size();
        deviation = in_mm(mesh.mesh.deviation);
        benchmark::DoNotOptimize(mesh.mesh.points.data());
    }
    state.counters["triangles"] = static_cast<double>(triangles);
    state.counters["deviation_mm"] = deviation;
}
BENCHMARK(LoftToSheetMesh)->Unit(benchmark::kMillisecond);

void DragOneNode(benchmark::State& state) {
    const Loft loft = bench_loft();
    const auto layout = layout_of_sheet(loft, k_faces, 0.5 * k_tolerance).value();
    const auto before = mesh_of(sheet_ring(loft, k_faces, layout).value(), k_tolerance).value();
    const Eigen::Vector2d p = loft.sections()[6].nodes[4].p_mm;
    double shift = 0.0;
    for (auto _ : state) {
        shift = 1.0 - shift;
        const auto moved = loft.moved("knee", 6, p + Eigen::Vector2d(shift, 0.0)).value();
        const auto after = remesh(before, sheet_ring(moved.loft, k_faces, layout).value(), moved.changed).value();
        benchmark::DoNotOptimize(after.ring_mesh.mesh.points.data());
    }
}
BENCHMARK(DragOneNode)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace sillwright::geometry
