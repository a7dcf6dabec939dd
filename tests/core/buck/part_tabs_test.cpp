#include "core/buck/part_tabs.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/buck/slotted.h"
#include "tests/core/buck/example_buck.h"

namespace sillwright::core {
namespace {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Profile;

Profile board(double width, double height) {
    return geometry::make_profile({{{0, 0}, {}}, {{width, 0}, {}}, {{width, height}, {}}, {{0, height}, {}}}, true)
        .value();
}

TabWish wish(double pitch = 250.0) {
    return {6.0, pitch, 3.0, {}, {}};
}

TEST(PartTabs, LeavesNoGapWiderThanThePitch) {
    for (const double pitch : {120.0, 200.0, 250.0}) {
        const Profile outline = board(900, 60);
        const auto tabs = tabs_on(outline, wish(pitch));
        EXPECT_LE(in_mm(*widest_gap(outline, tabs)), pitch);
        // No more than twice as many as the perimeter needs.
        EXPECT_LE(static_cast<double>(tabs.size()), 2.0 * std::ceil(1920.0 / pitch));
    }
}

TEST(PartTabs, GivesASmallPartThree) {
    const auto tabs = tabs_on(board(60, 40), wish());
    ASSERT_EQ(tabs.size(), 3U);
    // Clear of the corners by half a tab and the bit.
    for (const Tab& tab : tabs) {
        for (const Vector2d& corner : {Vector2d(0, 0), Vector2d(60, 0), Vector2d(60, 40), Vector2d(0, 40)}) {
            EXPECT_GE((tab.at_mm - corner).norm(), 6.0 - 1e-9);
        }
    }
}

TEST(PartTabs, GivesATinyPartWhatItHasRoomFor) {
    // No side is as long as a tab with the bit on both sides, 12 mm.
    EXPECT_TRUE(tabs_on(board(11, 11), wish()).empty());
    EXPECT_FALSE(widest_gap(board(11, 11), {}).has_value());
}

TEST(PartTabs, KeepsOffSlotsAndCornersOfARib) {
    const Rib rib = tests::rib("R1", "1", 0.0);
    const Profile outline = slotted(rib.outline, rib.laps, 0.0).value();
    TabWish asked = wish(120.0);
    for (const Slot& slot : rib.laps) {
        asked.keep_off.emplace_back(Vector2d(slot.at_mm - slot.width_mm / 2, 0.0),
                                    Vector2d(slot.at_mm + slot.width_mm / 2, slot.depth_mm));
    }
    const auto tabs = tabs_on(outline, asked);
    EXPECT_GE(tabs.size(), k_least_tabs);
    for (const Tab& tab : tabs) {
        EXPECT_LT(in_mm(nearest_point(outline, tab.at_mm).distance), 1e-9);
        for (const AlignedBox2d& box : asked.keep_off) {
            EXPECT_GE(box.exteriorDistance(tab.at_mm), 9.0 - 1e-9);
        }
        // On a straight, or an arc that turns by less than 10 degrees over 12 mm: of radius 68 or more; here none is.
        const auto near = nearest_point(outline, tab.at_mm);
        EXPECT_TRUE(std::holds_alternative<geometry::LineSegment>(outline.segments[near.segment].shape));
    }
}

TEST(PartTabs, StandsOnPlacesOfALowRankFirst) {
    // The lower edge alone is enough for three, and for the pitch.
    TabWish asked = wish(2000.0);
    asked.rank = [](const Vector2d& p) { return p.y() < 1e-9 ? 0 : 1; };
    const auto tabs = tabs_on(board(300, 60), asked);
    ASSERT_EQ(tabs.size(), 3U);
    for (const Tab& tab : tabs) {
        EXPECT_NEAR(tab.at_mm.y(), 0.0, 1e-9);
        EXPECT_NEAR(geometry::in_rad(tab.direction), 0.0, 1e-9);
    }
    // With a pitch of 250 the 420 of the other three edges need one more at least.
    asked.pitch_mm = 250.0;
    const auto more = tabs_on(board(300, 60), asked);
    EXPECT_LE(in_mm(*widest_gap(board(300, 60), more)), 250.0);
}

TEST(PartTabs, MeasuresTheWidestGapRoundTheOutline) {
    const Profile outline = board(300, 60);
    const std::vector<Tab> tabs{{{50, 0}, {}}, {{150, 0}, {}}, {{290, 0}, {}}};
    EXPECT_NEAR(in_mm(*widest_gap(outline, tabs)), 720.0 - 240.0, 1e-9);
    EXPECT_NEAR(in_mm(*widest_gap(outline, {tabs[0]})), 720.0, 1e-9);
}

}  // namespace
}  // namespace sillwright::core
