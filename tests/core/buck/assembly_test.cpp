#include "core/buck/assembly.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/buck/half_lap.h"
#include "tests/core/buck/hand_ribs.h"

namespace sillwright::core {
namespace {

LapMaking keyed(double step, SpineCount count = SpineCount::two) {
    LapMaking one;
    one.spine_thickness_mm = 12.0;
    one.fit_mm = 0.15;
    one.extra_mm = 0.5;
    one.step_mm = step;
    one.count = count;
    return one;
}

TEST(Assembly, ARibInItsOwnPlaceStandsOnTheBase) {
    auto ribs = hand_ribs(6, 120, 160);
    const auto spines = lay_spines(ribs, keyed(4));
    for (std::size_t i = 0; i < ribs.size(); ++i) {
        EXPECT_EQ(lift_mm(ribs[i], spines, i, false), 0.0);
    }
}

/// By hand: the keys' step less the two extras, whichever way the rib went wrong.
TEST(Assembly, EveryWrongPlaceShowsByAStepLessThePlay) {
    auto ribs = hand_ribs(6, 120, 160);
    const auto spines = lay_spines(ribs, keyed(4));
    double least = 1e9;
    for (std::size_t i = 0; i < ribs.size(); ++i) {
        for (std::size_t place = 0; place < ribs.size(); ++place) {
            for (const bool turned : {false, true}) {
                if (place == i && !turned) {
                    continue;
                }
                const auto lift = lift_mm(ribs[i], spines, place, turned);
                ASSERT_TRUE(lift);
                least = std::min(least, *lift);
            }
        }
    }
    EXPECT_NEAR(least, 3.0, 1e-9);
    EXPECT_NEAR(worst_wrong_place(ribs, spines)->lift_mm, 3.0, 1e-9);
}

/// Equal half-laps permit any order: that must be found.
TEST(Assembly, EqualHalfLapsPermitASwap) {
    auto ribs = hand_ribs(4, 120, 160);
    const auto spines = lay_spines(ribs, keyed(0));
    const auto worst = worst_wrong_place(ribs, spines);
    ASSERT_TRUE(worst);
    EXPECT_EQ(worst->lift_mm, 0.0);
    EXPECT_NE(worst->rib, worst->place);
}

TEST(Assembly, OneSpinePermitsATurnedRib) {
    auto ribs = hand_ribs(4, 120, 160);
    const auto spines = lay_spines(ribs, keyed(4, SpineCount::one));
    const auto worst = worst_wrong_place(ribs, spines);
    ASSERT_TRUE(worst);
    EXPECT_EQ(worst->lift_mm, 0.0);
    EXPECT_TRUE(worst->reversed);
    EXPECT_EQ(worst->rib, worst->place);
    EXPECT_EQ(lift_mm(ribs[0], spines, 1, false), 3.0);
    EXPECT_EQ(lift_mm(ribs[1], spines, 0, false), 0.0);
}

TEST(Assembly, ARibDoesNotGoInWhereItsSlotsAreElsewhereOrNarrower) {
    auto ribs = hand_ribs(3, 120, 160);
    auto spines = lay_spines(ribs, keyed(4));
    Rib moved = ribs[0];
    moved.laps[0].at_mm += 0.2;  // more than the play of both slots
    EXPECT_FALSE(lift_mm(moved, spines, 0, false));
    moved = ribs[0];
    moved.laps[0].at_mm += 0.1;
    EXPECT_TRUE(lift_mm(moved, spines, 0, false));
    moved = ribs[0];
    moved.laps[1].width_mm = 11.9;
    EXPECT_FALSE(lift_mm(moved, spines, 0, false));
    moved = ribs[0];
    moved.thickness_mm = 12.4;
    EXPECT_FALSE(lift_mm(moved, spines, 0, false));
    EXPECT_FALSE(worst_wrong_place(ribs, {}));
}

}  // namespace
}  // namespace sillwright::core
