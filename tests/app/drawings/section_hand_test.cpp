#include "app/drawings/section_hand.h"

#include <gtest/gtest.h>

#include <cmath>

// Expected values: a square corner, by hand.
namespace sillwright::app {
namespace {

SectionNode square_corner(double radius_mm) {
    SectionNode node;
    node.at_mm = {0, 0};
    node.before_mm = Eigen::Vector2d(-40, 0);
    node.behind_mm = Eigen::Vector2d(0, -30);
    node.radius_mm = radius_mm;
    return node;
}

TEST(SectionHand, ASquareCornerIsHalvedAtFortyFiveDegrees) {
    const auto corner = corner_of(square_corner(0));
    ASSERT_TRUE(corner);
    EXPECT_NEAR(corner->half_sine, std::sqrt(0.5), 1e-12);
    EXPECT_LT((corner->inward - Eigen::Vector2d(-std::sqrt(0.5), -std::sqrt(0.5))).norm(), 1e-12);
    EXPECT_LT(corner->most_mm, 30.0) << "the shorter straight";
    EXPECT_GT(corner->most_mm, 29.0);
}

TEST(SectionHand, TheHandleMeansTheRadiusThatItStandsFor) {
    const SectionScale scale{3.0, QPointF(200, 200)};
    const SectionNode node = square_corner(8);
    for (const double radius_mm : {0.0, 2.5, 8.0, 20.0}) {
        EXPECT_NEAR(radius_for(node, radius_handle(node, radius_mm, scale).value(), scale), radius_mm, 1e-9);
    }
    EXPECT_EQ(radius_for(node, QPointF(400, 0), scale), 0.0) << "dragged outward";
}

TEST(SectionHand, AnEndAndAStraightHaveNothingToRound) {
    SectionNode end = square_corner(0);
    end.behind_mm.reset();
    EXPECT_FALSE(corner_of(end));
    SectionNode straight = square_corner(0);
    straight.behind_mm = Eigen::Vector2d(50, 0);
    EXPECT_FALSE(corner_of(straight));
}

}  // namespace
}  // namespace sillwright::app
