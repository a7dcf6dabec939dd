#include "geometry/corner.h"

#include <gtest/gtest.h>

#include <cmath>

namespace sillwright::geometry {
namespace {

const std::vector<std::string> k_names{"a", "b", "c", "d", "e"};

std::vector<ProfileNode> nodes(const std::vector<std::array<double, 3>>& out_up_radius) {
    std::vector<ProfileNode> result;
    for (const auto& n : out_up_radius) {
        result.push_back({{n[0], n[1]}, millimetres(n[2])});
    }
    return result;
}

// Right angle: the tangent of half the turn is 1, so the setback is the radius, by hand.
TEST(Corner, RightAngleBothWays) {
    std::vector<Corner> corners;
    ASSERT_TRUE(find_corners(nodes({{0, 0, 0}, {10, 0, 4}, {10, 10, 3}, {20, 10, 0}}), k_names, false, corners));
    EXPECT_EQ(corners[0].kind, CornerKind::end);
    EXPECT_EQ(corners[1].kind, CornerKind::turn);
    EXPECT_EQ(corners[1].side, 1.0);
    EXPECT_EQ(corners[2].side, -1.0);
    EXPECT_NEAR(corners[1].tan_half, 1.0, 1e-15);
    EXPECT_NEAR(corners[1].setback_at(0.0), 4.0, 1e-15);
    EXPECT_NEAR(corners[1].radius_at(1.5), 2.5, 1e-15);   // inside of a left turn
    EXPECT_NEAR(corners[2].radius_at(1.5), 4.5, 1e-15);   // outside of a right turn
    EXPECT_NEAR(corners[1].setback_at(6.0), 6.0, 1e-15);  // a point of two straights
    EXPECT_NEAR(corners[2].setback_at(6.0), 3.0, 1e-15);  // outside the tangent point keeps its place
    EXPECT_TRUE(check_room(corners, k_names, false, 0.0).has_value());
    EXPECT_TRUE(check_room(corners, k_names, false, 7.0).has_value());  // 7 + 3 = 10
    EXPECT_FALSE(check_room(corners, k_names, false, 7.1).has_value());
}

TEST(Corner, PointsOnStraightsAndAtOnePlaceAreNoCorners) {
    std::vector<Corner> corners;
    ASSERT_TRUE(
        find_corners(nodes({{0, 0, 0}, {5, 0, 9}, {10, 0, 1}, {10, 0, 4}, {10, 10, 0}}), k_names, false, corners));
    EXPECT_EQ(corners[1].kind, CornerKind::on_straight);
    EXPECT_EQ(corners[2].kind, CornerKind::on_straight);
    EXPECT_EQ(corners[3].kind, CornerKind::turn);  // the larger radius stands for the place
    ASSERT_TRUE(find_corners(nodes({{0, 0, 0}, {0, 0, 3}, {5, 0, 0}}), k_names, false, corners));
    EXPECT_EQ(corners[0].kind, CornerKind::end);
    EXPECT_EQ(corners[1].kind, CornerKind::end);
}

TEST(Corner, ClosedChainHasNoEnds) {
    std::vector<Corner> corners;
    ASSERT_TRUE(find_corners(nodes({{0, 0, 1}, {10, 0, 2}, {10, 10, 3}, {0, 10, 8}}), k_names, true, corners));
    for (const Corner& c : corners) {
        EXPECT_EQ(c.kind, CornerKind::turn);
        EXPECT_EQ(c.side, 1.0);
    }
    const auto room = check_room(corners, k_names, true, 0.0);  // 3 + 8 > 10
    ASSERT_FALSE(room.has_value());
    EXPECT_NE(room.error().message.find("'c' to 'd'"), std::string::npos);
    EXPECT_NE(room.error().message.find("7.00 mm or less fits at 'd'"), std::string::npos) << room.error().message;
}

TEST(Corner, RefusesAFoldAndAHeap) {
    std::vector<Corner> corners;
    const auto fold = find_corners(nodes({{0, 0, 0}, {10, 0, 0}, {2, 0, 0}}), k_names, false, corners);
    ASSERT_FALSE(fold.has_value());
    EXPECT_NE(fold.error().message.find("'b'"), std::string::npos);
    EXPECT_FALSE(find_corners(nodes({{1, 1, 0}, {1, 1, 0}, {1, 1, 0}}), k_names, false, corners).has_value());
}

}  // namespace
}  // namespace sillwright::geometry
