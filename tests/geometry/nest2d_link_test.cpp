#include "geometry/nest2d_link.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "geometry/nest.h"
#include "geometry/nest_check.h"

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

const Polygon k_box{{0, 0}, {40, 0}, {40, 30}, {0, 30}};

SheetToCheck sheet_of(const std::vector<Polygon>& parts, const std::vector<Nest2dPlace>& places, int number) {
    // What it truncates is 0.002 mm; so a margin of a little less than nothing, and no gap.
    SheetToCheck sheet{{100, 100}, millimetres(-0.01), {}, {}, {}};
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (places[i].sheet == number) {
            sheet.outlines_mm.push_back(placed_ring(parts[i], {i, radians(places[i].turned_rad), places[i].moved_mm}));
        }
    }
    return sheet;
}

TEST(Nest2dLink, LaysPartsOnSheetsFromTheLowerLeftCorner) {
    const std::vector<Polygon> parts(14, k_box);
    for (const bool pairs : {false, true}) {
        const auto places =
            laid_by_nest2d(parts, {100, 100}, {4, Nest2dSettings::Corner::bottom_left, 0.65F, pairs}, {});
        ASSERT_EQ(places.size(), parts.size());
        int sheets = 0;
        std::size_t laid = 0;
        for (const Nest2dPlace& place : places) {
            EXPECT_GE(place.sheet, 0);
            sheets = std::max(sheets, place.sheet + 1);
        }
        // 14 x 1200 of 10000 a sheet: two at the least.
        EXPECT_GE(sheets, 2);
        for (int i = 0; i < sheets; ++i) {
            const SheetToCheck sheet = sheet_of(parts, places, i);
            laid += sheet.outlines_mm.size();
            for (const Polygon& ring : sheet.outlines_mm) {
                for (const Vector2d& p : ring) {
                    EXPECT_GT(p.minCoeff(), -0.01);
                    EXPECT_LT(p.maxCoeff(), 100.01);
                }
            }
        }
        EXPECT_EQ(laid, parts.size());
    }
}

TEST(Nest2dLink, LeavesOutWhatIsTooLarge) {
    const auto places = laid_by_nest2d({k_box, {{0, 0}, {120, 0}, {120, 10}, {0, 10}}}, {100, 100}, {}, {});
    EXPECT_EQ(places[0].sheet, 0);
    EXPECT_LT(places[1].sheet, 0);
}

TEST(Nest2dLink, StopsWhenAsked) {
    int asked = 0;
    const auto places =
        laid_by_nest2d(std::vector<Polygon>(20, k_box), {100, 100}, {}, [&asked] { return ++asked > 5; });
    EXPECT_GT(std::count_if(places.begin(), places.end(), [](const auto& place) { return place.sheet < 0; }), 5);
}

}  // namespace
}  // namespace sillwright::geometry
