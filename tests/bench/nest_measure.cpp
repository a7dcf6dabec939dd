#include "tests/bench/nest_measure.h"

#include <algorithm>
#include <ctime>

#include "geometry/nest.h"
#include "tests/bench/measure.h"
#include "tests/support/nest_by_library.h"
#include "tests/support/nest_ribs.h"

namespace sillwright::bench {

using Eigen::Vector2d;
using geometry::Polygon;

namespace {

geometry::NestQuestion small_question() {
    geometry::NestQuestion question = tests::rib_question(0, 1);
    for (Polygon rib : tests::example_ribs(10, 8)) {
        for (Vector2d& p : rib) {
            p = Vector2d(0.2 * p.x(), 0.85 * p.y());
        }
        question.parts.push_back({std::move(rib), {0}});
    }
    for (int i = 0; i < 2; ++i) {
        question.parts.push_back({{{0, 0}, {1900, 0}, {1900, 80}, {0, 80}}, {0}});
    }
    return question;
}

}  // namespace

NestTimes measure_nest() {
    constexpr double k_mm2_per_m2 = 1e6;
    NestTimes times;
    const geometry::NestQuestion question = tests::rib_question(40, 1);
    const std::clock_t start = std::clock();
    const auto found = geometry::nest(question, {}, [&](const geometry::NestLayout&) {
        times.first_ms = times.first_ms > 0.0 ? times.first_ms : ms_since(start);
    });
    times.all_ms = ms_since(start);
    const tests::LibraryNest best = tests::best_by_library(question, true);
    const geometry::NestQuestion small = small_question();
    times.small_ms = least_ms(1, [&] { times.failed |= !geometry::nest(small); });
    if (!found || !best.sound || !found.value().left_out.empty()) {
        times.failed = true;
        return times;
    }
    times.sheets = found.value().sheets.size();
    times.used_m2 = found.value().score.used_mm2 / k_mm2_per_m2;
    times.emptiest_m2 = times.used_m2;
    for (const geometry::LaidSheet& sheet : found.value().sheets) {
        times.emptiest_m2 = std::min(times.emptiest_m2, sheet.used_mm.prod() / k_mm2_per_m2);
    }
    times.library_sheets = best.sheets;
    times.library_used_m2 = best.used_mm2 / k_mm2_per_m2;
    times.library_emptiest_m2 = best.emptiest_mm2 / k_mm2_per_m2;
    times.library_settings = best.settings;
    return times;
}

}  // namespace sillwright::bench
