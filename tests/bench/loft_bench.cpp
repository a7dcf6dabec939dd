// Loft of 12 stations and 8 names to a closed sheet mesh within 0.02 mm, and a
// node dragged at one station.
#include <benchmark/benchmark.h>

#include "tests/bench/loft_measure.h"

namespace sillwright::bench {
namespace {

using geometry::Loft;

void loft_to_sheet_mesh(benchmark::State& state) {
    const Loft drawn = bench_loft();
    std::size_t triangles = 0;
    double deviation = 0.0;
    for (auto unused : state) {
        const geometry::RingMesh mesh = mesh_of_sections(drawn);
        triangles = mesh.mesh.triangles.size();
        deviation = in_mm(mesh.mesh.deviation);
        benchmark::DoNotOptimize(mesh.mesh.points.data());
    }
    state.counters["triangles"] = static_cast<double>(triangles);
    state.counters["deviation_mm"] = deviation;
}
BENCHMARK(loft_to_sheet_mesh)->Unit(benchmark::kMillisecond);

void drag_one_node(benchmark::State& state) {
    const Loft loft = bench_loft();
    const auto layout = layout_of_sheet(loft, bench_faces(), 0.5 * bench_tolerance()).value();
    const auto before = mesh_of(sheet_ring(loft, bench_faces(), layout).value(), bench_tolerance()).value();
    const Eigen::Vector2d p = loft.sections()[6].nodes[4].p_mm;
    double shift = 0.0;
    for (auto unused : state) {
        shift = 1.0 - shift;
        const auto moved = loft.moved("knee", 6, p + Eigen::Vector2d(shift, 0.0)).value();
        const auto after = remesh(before, sheet_ring(moved.loft, bench_faces(), layout).value(), moved.changed).value();
        benchmark::DoNotOptimize(after.ring_mesh.mesh.points.data());
    }
}
BENCHMARK(drag_one_node)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace sillwright::bench
