#include "tests/support/nest_by_library.h"

#include <algorithm>
#include <ctime>
#include <map>

#include "geometry/nest2d_link.h"
#include "geometry/nest_check.h"

namespace sillwright::tests {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Nest2dSettings;
using geometry::Polygon;

namespace {

LibraryNest laid(const geometry::NestQuestion& question, const Nest2dSettings& settings) {
    const geometry::Length half = 0.5 * question.gap + geometry::millimetres(0.002);
    const double in = in_mm(question.margin) - 0.5 * in_mm(question.gap);
    std::vector<Polygon> rings;
    for (const geometry::NestPart& part : question.parts) {
        rings.push_back(geometry::grown_ring(part.outline_mm, {half, {}, geometry::millimetres(0.2), {}}).value());
    }
    const std::clock_t start = std::clock();
    const Vector2d room = question.boards[0].size_mm.array() - 2.0 * in;
    const auto places = geometry::laid_by_nest2d(rings, room, settings, {});
    LibraryNest nest;
    nest.seconds = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    nest.settings = std::to_string(settings.rotations) + " rotations, from the " +
                    (settings.start == Nest2dSettings::Corner::middle ? "middle" : "corner") + ", accuracy " +
                    (settings.accuracy < 1.0F ? "usual" : "highest") + (settings.pairs ? ", by pairs" : "");
    std::map<int, geometry::SheetToCheck> sheets;
    nest.sound = true;
    for (std::size_t i = 0; i < places.size(); ++i) {
        nest.sound = nest.sound && places[i].sheet >= 0;
        auto& sheet = sheets[places[i].sheet];
        sheet.size_mm = question.boards[0].size_mm;
        sheet.margin = question.margin;
        sheet.gap = question.gap;
        sheet.outlines_mm.push_back(geometry::placed_ring(
            question.parts[i].outline_mm,
            {i, geometry::radians(places[i].turned_rad), places[i].moved_mm + Vector2d::Constant(in)}));
    }
    nest.sheets = sheets.size();
    nest.emptiest_mm2 = question.boards[0].size_mm.prod();
    for (const auto& [number, sheet] : sheets) {
        nest.sound = nest.sound && !geometry::sheet_fault(sheet);
        Vector2d used = Vector2d::Zero();
        for (const Polygon& ring : sheet.outlines_mm) {
            for (const Vector2d& p : ring) {
                used = used.cwiseMax(p);
            }
        }
        nest.used_mm2 += used.prod();
        nest.emptiest_mm2 = std::min(nest.emptiest_mm2, used.prod());
    }
    return nest;
}

}  // namespace

std::vector<LibraryNest> by_library(const geometry::NestQuestion& question, bool all) {
    std::vector<LibraryNest> nests;
    for (const bool pairs : {false, true}) {
        for (const int rotations : {2, 4, 8}) {
            for (const auto start : {Nest2dSettings::Corner::middle, Nest2dSettings::Corner::bottom_left}) {
                for (const float accuracy : {0.65F, 1.0F}) {
                    if (all || (!pairs && accuracy < 1.0F) || (pairs && rotations == 2 && accuracy < 1.0F)) {
                        nests.push_back(laid(question, {rotations, start, accuracy, pairs}));
                    }
                }
            }
        }
    }
    return nests;
}

LibraryNest best_by_library(const geometry::NestQuestion& question, bool all) {
    std::vector<LibraryNest> nests = by_library(question, all);
    std::erase_if(nests, [](const LibraryNest& nest) { return !nest.sound; });
    const auto best = std::min_element(nests.begin(), nests.end(), [](const LibraryNest& a, const LibraryNest& b) {
        return a.sheets != b.sheets ? a.sheets < b.sheets : a.emptiest_mm2 < b.emptiest_mm2;
    });
    return best == nests.end() ? LibraryNest{"none is sound", static_cast<std::size_t>(-1), 1e300, 1e300, 0.0, false}
                               : *best;
}

}  // namespace sillwright::tests
