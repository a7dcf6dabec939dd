#include "core/buck/reference_lines.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

InnerRoom box(double left, double bottom, double right, double top) {
    std::vector<geometry::ProfileNode> nodes;
    for (const Eigen::Vector2d& p : {Eigen::Vector2d(left, bottom), {right, bottom}, {right, top}, {left, top}}) {
        nodes.push_back({p, {}});
    }
    return InnerRoom::of(geometry::make_profile(nodes, true).value()).value();
}

TEST(ReferenceLines, AreTheSameForAllWhereTheyCan) {
    // Common heights 20 to 110, a quarter up is 42.5; common outs 40 to 130, the middle is 85 (a half goes up).
    const auto lines = reference_lines({box(30, 10, 140, 120), box(40, 20, 130, 110)});
    ASSERT_EQ(lines.size(), 2U);
    for (const ReferenceLines& line : lines) {
        EXPECT_EQ(line.baseline_up_mm, 40.0);
        EXPECT_EQ(line.centre_out_mm, 90.0);
    }
}

TEST(ReferenceLines, AreEachRibsOwnWhereNothingIsCommon) {
    const auto lines = reference_lines({box(0, 0, 100, 80), box(0, 200, 100, 280)});
    ASSERT_EQ(lines.size(), 2U);
    EXPECT_EQ(lines[0].baseline_up_mm, 20.0);
    EXPECT_EQ(lines[1].baseline_up_mm, 220.0);
}

TEST(ReferenceLines, StayInsideASmallRib) {
    // 5 mm inside leaves 8 alone: a quarter up, 5.5, has no whole number there; the middle is 8.
    const auto lines = reference_lines({box(3, 3, 13, 13)});
    EXPECT_EQ(lines[0].baseline_up_mm, 5.5);
    EXPECT_EQ(lines[0].centre_out_mm, 8.0);
    EXPECT_TRUE(reference_lines({}).empty());
}

}  // namespace
}  // namespace sillwright::core
