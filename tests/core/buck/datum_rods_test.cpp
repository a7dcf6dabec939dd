#include "core/buck/datum_rods.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/buck/half_lap.h"
#include "tests/core/buck/hand_ribs.h"

namespace sillwright::core {
namespace {

/// By hand: 100 x 80 less 13 all round, in whole fives: sides 15 to 85, heights 15 to 65.
TEST(DatumRods, AreAsFarApartAsThereIsRoom) {
    const auto rods = datum_rods(hand_ribs(3, 100, 80), {}, 6.0);
    ASSERT_EQ(rods.size(), 2U);
    EXPECT_NEAR((rods[1] - rods[0]).norm(), std::hypot(70.0, 50.0), 1e-9);
}

TEST(DatumRods, KeepClearOfSlotsAndSpines) {
    auto ribs = hand_ribs(5, 120, 160);
    LapMaking making;
    making.spine_thickness_mm = 12.0;
    making.fit_mm = 0.15;
    making.extra_mm = 0.5;
    making.step_mm = 4.0;
    const auto spines = lay_spines(ribs, making);
    ASSERT_EQ(spines.size(), 2U);
    const auto rods = datum_rods(ribs, spines, 6.0);
    ASSERT_EQ(rods.size(), 2U);
    for (const auto& rod : rods) {
        for (const Spine& spine : spines) {
            const double across = std::max(0.0, std::abs(rod.x() - spine.side_mm) - 0.5 * 12.15);
            EXPECT_GE(std::hypot(across, std::max(0.0, rod.y() - spine.height_mm)), 3.0 + k_wood_about_rod_mm);
        }
        EXPECT_GE(rod.x(), 13.0);
        EXPECT_LE(rod.x(), 107.0);
    }
}

TEST(DatumRods, AreInsideTheSmallestRib) {
    auto ribs = hand_ribs(2, 100, 80);
    ribs.push_back(hand_ribs(1, 50, 60).front());
    for (const auto& rod : datum_rods(ribs, {}, 6.0)) {
        EXPECT_LE(rod.x(), 37.0);
        EXPECT_LE(rod.y(), 47.0);
    }
    EXPECT_NEAR(level_height_mm(ribs), 30.0, 1e-9);
    ribs.push_back(hand_ribs(1, 20, 60).front());
    EXPECT_TRUE(datum_rods(ribs, {}, 6.0).empty());
}

/// Three, four, five: the diagonals of a buck whose marks are that far apart.
TEST(DatumRods, CheckDistancesAreMeasuredInSpace) {
    PieceBuck buck;
    buck.ribs = hand_ribs(2, 300, 80, 400);
    for (Rib& rib : buck.ribs) {
        rib.pins_mm = {{50, 20}, {50, 60}};
    }
    const auto checks = check_distances(buck);
    int feet = 0, rods = 0, pitches = 0;
    for (const CheckDistance& check : checks) {
        if (check.from.find("foot") != std::string::npos) {
            EXPECT_NEAR(in_mm(check.value), 500.0, 1e-9);
            ++feet;
        } else if (check.from.find("rod") != std::string::npos) {
            EXPECT_NEAR(in_mm(check.value), std::hypot(400.0, 40.0), 1e-9);
            ++rods;
        } else {
            EXPECT_NEAR(in_mm(check.value), 400.0, 1e-9);
            ++pitches;
        }
    }
    EXPECT_EQ(feet, 2);
    EXPECT_EQ(rods, 2);
    EXPECT_EQ(pitches, 1);
    EXPECT_TRUE(check_distances(PieceBuck{}).empty());
}

}  // namespace
}  // namespace sillwright::core
