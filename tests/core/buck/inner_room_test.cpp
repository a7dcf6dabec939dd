#include "core/buck/inner_room.h"

#include <gtest/gtest.h>

#include <cmath>

namespace sillwright::core {
namespace {

using geometry::degrees;
using geometry::make_profile;

geometry::Profile polygon(const std::vector<Eigen::Vector2d>& points) {
    std::vector<geometry::ProfileNode> nodes;
    for (const Eigen::Vector2d& p : points) {
        nodes.push_back({p, {}});
    }
    return make_profile(nodes, true).value();
}

/// A U: 100 wide, 60 high, its slot from 40 to 70 and down to 20.
InnerRoom u_shape() {
    return InnerRoom::of(polygon({{0, 0}, {100, 0}, {100, 60}, {70, 60}, {70, 20}, {40, 20}, {40, 60}, {0, 60}}))
        .value();
}

TEST(InnerRoom, KnowsTheStretchesOfALine) {
    const InnerRoom room = u_shape();
    EXPECT_EQ(room.bottom_mm(), 0.0);
    EXPECT_EQ(room.top_mm(), 60.0);
    const auto low = room.stretches(10.0);
    ASSERT_EQ(low.size(), 1U);
    EXPECT_EQ(low[0].width_mm(), 100.0);
    const auto high = room.stretches(40.0);
    ASSERT_EQ(high.size(), 2U);
    EXPECT_EQ(high[0].from_mm, 0.0);
    EXPECT_EQ(high[0].to_mm, 40.0);
    EXPECT_EQ(high[1].from_mm, 70.0);
    EXPECT_EQ(room.widest(40.0)->width_mm(), 40.0);
    EXPECT_TRUE(room.stretches(61.0).empty());
    EXPECT_FALSE(room.widest(-1.0));
}

TEST(InnerRoom, FindsTheWidestRectangleBetweenTwoHeights) {
    const InnerRoom room = u_shape();
    EXPECT_EQ(room.widest_between(1.0, 19.0)->width_mm(), 100.0);
    EXPECT_EQ(room.widest_between(1.0, 50.0)->width_mm(), 40.0);
    EXPECT_FALSE(room.widest_between(50.0, 70.0));
}

TEST(InnerRoom, TakesArcsAsChords) {
    const geometry::Profile circle{{{geometry::ArcSegment{{0, 0}, 50, degrees(0), degrees(360)}, 0}}, true};
    const auto room = InnerRoom::of(circle).value();
    // Half-chord of a circle, closed form: sqrt(r^2 - y^2). 0.01 mm off the arc at a slope of 3 to 4.
    EXPECT_NEAR(room.widest(30.0)->to_mm, 40.0, 0.01 * 5.0 / 4.0);
}

}  // namespace
}  // namespace sillwright::core
