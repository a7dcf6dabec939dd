// The swing of a door at full size, 100 000 triangles against 100 000 over 70 degrees, beside the Flexible
// Collision Library in the same run. Everything runs in one thread.
#include <benchmark/benchmark.h>

#include <string>

#include "tests/bench/swing_measure.h"

namespace sillwright::bench {
namespace {

void swing_tree(benchmark::State& state, const char* name) {
    const tests::SwingScene& scene = full_scene(name);
    for (auto unused : state) {
        benchmark::DoNotOptimize(tree_of(scene.fixed));
    }
    state.SetLabel("one thread");
}

void swing_refit(benchmark::State& state, const char* name) {
    geometry::DistanceTree tree = tree_of(full_scene(name).fixed);
    const Edit edit = local_edit(full_scene(name).fixed);
    for (auto unused : state) {
        tree.refit(edit.mesh, edit.triangles);
    }
    state.SetLabel("one thread, " + std::to_string(edit.triangles.size()) + " triangles moved");
}

void swing_least(benchmark::State& state, const char* name) {
    const tests::SwingScene& scene = full_scene(name);
    const geometry::DistanceTree fixed = tree_of(scene.fixed);
    const geometry::DistanceTree moving = tree_of(scene.moving);
    for (auto unused : state) {
        benchmark::DoNotOptimize(least_distance(fixed, moving, scene.motion, full_swing()));
    }
    state.SetLabel("one thread, certified to 0.01 mm");
}

/// The library's two ways and ours in one run.
void swing_beside_fcl(benchmark::State& state, const char* name, bool all_poses) {
    Ours ours;
    Library library;
    for (auto unused : state) {
        ours = measure_ours(full_scene(name));
        library = all_poses ? measure_library(full_scene(name)) : extrapolate_library(full_scene(name));
    }
    state.counters["ours_ms"] = ours.least_ms;
    state.counters["fcl_even_ms"] = library.even_ms;
    state.counters["fcl_bound_ms"] = library.bound_ms;
    state.counters["even_ratio"] = library.even_ms / ours.least_ms;
    state.counters["bound_ratio"] = library.bound_ms / ours.least_ms;
    state.SetLabel(all_poses ? "one thread each" : "one thread each; FCL does not advance, extrapolated from 5 poses");
}

BENCHMARK_CAPTURE(swing_tree, clear, "clear")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(swing_refit, clear, "clear")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(swing_least, clear, "clear")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(swing_beside_fcl, clear, "clear", true)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK_CAPTURE(swing_tree, glide, "glide")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(swing_refit, glide, "glide")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(swing_least, glide, "glide")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(swing_beside_fcl, glide, "glide", true)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK_CAPTURE(swing_tree, level_glide, "level glide")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(swing_refit, level_glide, "level glide")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(swing_least, level_glide, "level glide")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(swing_beside_fcl, level_glide, "level glide", false)->Unit(benchmark::kMillisecond)->Iterations(1);

}  // namespace
}  // namespace sillwright::bench
