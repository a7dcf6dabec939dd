#include "core/buck/half_lap.h"

#include <gtest/gtest.h>

#include "core/buck/assembly.h"
#include "tests/core/buck/hand_ribs.h"

namespace sillwright::core {
namespace {

LapMaking making() {
    LapMaking one;
    one.spine_thickness_mm = 12.0;
    one.fit_mm = 0.15;
    one.extra_mm = 0.5;
    one.step_mm = 4.0;
    return one;
}

/// Both stand on the base: rib slot and spine slot overlap by twice the extra, whatever the key.
void expect_half_laps(const std::vector<Rib>& ribs, const std::vector<Spine>& spines, double extra) {
    for (std::size_t k = 0; k < spines.size(); ++k) {
        for (std::size_t i = 0; i < ribs.size(); ++i) {
            const Slot& rib = ribs[i].laps[k];
            const Slot& spine = spines[k].laps[i];
            EXPECT_NEAR(rib.depth_mm - (spines[k].height_mm - spine.depth_mm), 2.0 * extra, 1e-9);
            EXPECT_NEAR(rib.width_mm, 12.15, 1e-12);
            EXPECT_NEAR(spine.width_mm, 12.15, 1e-12);
            EXPECT_NEAR(rib.at_mm, spines[k].side_mm, 1e-12);
            EXPECT_NEAR(spine.at_mm, ribs[i].x_mm + 6.0, 1e-12);
        }
    }
}

TEST(HalfLap, KeysRiseOnOneSpineAndFallOnTheOther) {
    auto ribs = hand_ribs(8, 120, 160);
    const auto spines = lay_spines(ribs, making());
    ASSERT_EQ(spines.size(), 2U);
    expect_half_laps(ribs, spines, 0.5);
    for (std::size_t i = 0; i + 1 < ribs.size(); ++i) {
        EXPECT_NEAR(ribs[i + 1].laps[0].depth_mm - ribs[i].laps[0].depth_mm, 4.0, 1e-9);
        EXPECT_NEAR(ribs[i + 1].laps[1].depth_mm - ribs[i].laps[1].depth_mm, -4.0, 1e-9);
    }
    EXPECT_GE(spines[0].height_mm - spines[1].height_mm, k_spines_differ_mm);
    EXPECT_NEAR(spines[0].side_mm, 30.0, 1e-9);
    EXPECT_NEAR(spines[1].side_mm, 90.0, 1e-9);
    EXPECT_EQ(spines[0].front_mm, 0.0 - k_spine_overhang_mm);
    EXPECT_EQ(spines[0].rear_mm, 1412.0 + k_spine_overhang_mm);
}

TEST(HalfLap, LeavesWoodAboveSlotsAndSpinesAndBelowSlots) {
    for (const std::size_t count : {2U, 5U, 8U, 20U, 40U}) {
        auto ribs = hand_ribs(count, 120, 160);
        const auto spines = lay_spines(ribs, making());
        ASSERT_EQ(spines.size(), 2U) << count;
        expect_half_laps(ribs, spines, 0.5);
        for (std::size_t k = 0; k < 2; ++k) {
            EXPECT_LE(spines[k].height_mm, 160.0 - k_wood_above_slot_mm + 1e-9);
            for (std::size_t i = 0; i < count; ++i) {
                EXPECT_LE(ribs[i].laps[k].depth_mm, 160.0 - k_wood_above_slot_mm + 1e-9);
                EXPECT_GE(spines[k].height_mm - spines[k].laps[i].depth_mm, k_spine_left_mm - 1e-9);
                EXPECT_GE(spines[k].laps[i].depth_mm, k_spine_overlap_mm - 1e-9);
            }
        }
    }
}

TEST(HalfLap, StepsLessWhereThereAreManyRibs) {
    auto ribs = hand_ribs(30, 120, 160);
    const auto spines = lay_spines(ribs, making());
    ASSERT_EQ(spines.size(), 2U);
    const double step = ribs[1].laps[0].depth_mm - ribs[0].laps[0].depth_mm;
    // by hand: 29 steps twice and the gap of 3 between them, 15 + 0.5 below, 10 above, in 160 - 15
    EXPECT_NEAR(step, (145.0 - 15.5 - 10.0 - 3.0) / 58.0, 1e-6);
}

TEST(HalfLap, FindsNoRoomInALowOrNarrowRib) {
    auto low = hand_ribs(3, 120, 30);
    EXPECT_TRUE(lay_spines(low, making()).empty());
    EXPECT_TRUE(low.front().laps.empty());
    auto narrow = hand_ribs(3, 60, 160);
    EXPECT_TRUE(lay_spines(narrow, making()).empty());
    LapMaking one = making();
    one.count = SpineCount::one;
    EXPECT_EQ(lay_spines(narrow, one).size(), 1U);
    EXPECT_NEAR(narrow.front().laps.front().at_mm, 30.0, 1e-9);
    EXPECT_GT(lap_room(narrow, one).most_high_mm, lap_room(narrow, one).needed_mm);
}

TEST(HalfLap, TakesTheHeightThatIsAskedForOrNone) {
    auto ribs = hand_ribs(4, 120, 160);
    LapMaking high = making();
    high.height_mm = 130.0;
    const auto spines = lay_spines(ribs, high);
    ASSERT_EQ(spines.size(), 2U);
    EXPECT_EQ(spines.front().height_mm, 130.0);
    auto again = hand_ribs(4, 120, 160);
    high.height_mm = 150.0;
    EXPECT_TRUE(lay_spines(again, high).empty());
}

TEST(HalfLap, HeightInsideIsOfTheLowerFace) {
    auto ribs = hand_ribs(1, 100, 80);
    ribs.front().far_outline = hand_ribs(1, 90, 70).front().outline;
    EXPECT_NEAR(height_inside_mm(ribs.front(), 20, 40), 70.0, 1e-9);
    EXPECT_NEAR(height_inside_mm(ribs.front(), 80, 95), 0.0, 1e-9);
    EXPECT_NEAR(common_foot(ribs).high_mm, 90.0, 1e-9);
}

}  // namespace
}  // namespace sillwright::core
