#include "geometry/profile_thinning.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

PlaneLine arc(double radius, double degrees, int points) {
    PlaneLine line;
    for (int i = 0; i <= points; ++i) {
        const double t = degrees * i / points * std::numbers::pi / 180.0;
        line.emplace_back(radius * std::cos(t), radius * std::sin(t));
    }
    return line;
}

TEST(ProfileThinning, KeepsTheCornersOfALAlone) {
    PlaneLine line;
    for (int i = 0; i <= 50; ++i) {
        line.emplace_back(i, 0.0);
    }
    for (int i = 1; i <= 30; ++i) {
        line.emplace_back(50.0, i);
    }
    const auto thinned = thin(std::vector<PlaneLine>{line}, millimetres(0.2)).value();
    ASSERT_EQ(thinned.nodes[0].size(), 3U);
    EXPECT_EQ(thinned.nodes[0][1], Vector2d(50.0, 0.0));
    EXPECT_NEAR(in_mm(thinned.deviation), 0.0, 1e-12);
}

// Closed form: a chord over the angle a leaves the arc by r (1 - cos a/2).
TEST(ProfileThinning, DividesAnArcAsItsSagittaSays) {
    const PlaneLine line = arc(100.0, 90.0, 4096);
    for (const double most : {8.0, 2.0, 0.5, 0.1}) {
        const auto thinned = thin(std::vector<PlaneLine>{line}, millimetres(most)).value();
        // Halved until the sagitta is small enough.
        int halves = 0;
        while (100.0 * (1.0 - std::cos(std::numbers::pi / 4.0 / (1 << halves))) > most) {
            ++halves;
        }
        EXPECT_EQ(thinned.nodes[0].size(), (1U << halves) + 1U) << most;
        EXPECT_NEAR(in_mm(thinned.deviation), 100.0 * (1.0 - std::cos(std::numbers::pi / 4.0 / (1 << halves))), 1e-6);
        EXPECT_LE(in_mm(thinned.deviation), most);
        EXPECT_NEAR(in_mm(greatest_deviation(line, thinned.nodes[0])), in_mm(thinned.deviation), 1e-9);
    }
}

TEST(ProfileThinning, GivesLinesThatBendAlikeNodesOfOneNumber) {
    const PlaneLine first{{0, 0}, {10, 0.01}, {50, 0}, {50, 20}, {50, 60}};
    const PlaneLine second{{5, 0}, {58, 0}, {58, 30}, {59, 70}};
    const PlaneLine straight{{0, 0}, {3, 0}, {100, 0}};
    const auto thinned = thin(std::vector<PlaneLine>{first, second, straight}, millimetres(0.5)).value();
    ASSERT_EQ(thinned.nodes[0].size(), thinned.nodes[1].size());
    ASSERT_EQ(thinned.nodes[0].size(), thinned.nodes[2].size());
    EXPECT_EQ(thinned.nodes[0][1], Vector2d(50, 0));
    EXPECT_EQ(thinned.nodes[1][1], Vector2d(58, 0));
    EXPECT_GT(thinned.nodes[2][1].x(), 30.0) << "at the same part of the way, not at its own points";
    EXPECT_LT(thinned.nodes[2][1].x(), 70.0);
    EXPECT_LE(in_mm(thinned.deviation), 0.5);
}

TEST(ProfileThinning, DoesNotLoseALineThatTurnsBack) {
    // Ends where it began, nearly: the furthest point from the straight between them must still be found.
    const PlaneLine line{{0, 0}, {100, 0}, {100, 5}, {0, 5}, {0, 0.01}};
    const auto thinned = thin(std::vector<PlaneLine>{line}, millimetres(0.1)).value();
    EXPECT_LE(in_mm(thinned.deviation), 0.1);
    EXPECT_GE(thinned.nodes[0].size(), 4U);
}

TEST(ProfileThinning, RefusesWhatIsNoLine) {
    const PlaneLine line{{0, 0}, {1, 1}};
    EXPECT_EQ(thin({}, millimetres(1)).error().code, ErrorCode::invalid_argument);
    EXPECT_EQ(thin(std::vector<PlaneLine>{line}, millimetres(0)).error().code, ErrorCode::invalid_argument);
    EXPECT_EQ(thin(std::vector<PlaneLine>{line}, millimetres(std::nan(""))).error().code, ErrorCode::invalid_argument);
    EXPECT_FALSE(thin(std::vector<PlaneLine>{line, PlaneLine{{1, 1}, {1, 1}}}, millimetres(1)));
    EXPECT_FALSE(thin(std::vector<PlaneLine>{PlaneLine{{1, 1}, {1, std::nan("")}}}, millimetres(1)));
}

}  // namespace
}  // namespace sillwright::geometry
