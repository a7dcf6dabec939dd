#include "geometry/draft.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

/// Sines and arcs of numbers up to 1.
constexpr double k_rounding = 1e-12;

Vector2d facing(double deg, double length = 1.0) {
    return length * draw_direction(degrees(deg));
}

std::vector<Vector2d> turned(const std::vector<Vector2d>& normals, Angle by) {
    std::vector<Vector2d> all;
    const double c = std::cos(in_rad(by));
    const double s = std::sin(in_rad(by));
    for (const Vector2d& n : normals) {
        all.emplace_back(c * n.x() - s * n.y(), s * n.x() + c * n.y());
    }
    return all;
}

/// Normals of a mould by chance: mostly those of an open C, a few that face anywhere.
std::vector<Vector2d> by_chance(std::mt19937& random, bool any) {
    std::uniform_real_distribution<double> wide(-180.0, 180.0);
    std::uniform_real_distribution<double> open(-95.0, 95.0);
    std::uniform_real_distribution<double> length(0.8, 1.0);
    std::vector<Vector2d> normals;
    for (int i = 0; i < 30; ++i) {
        normals.push_back(facing(any ? wide(random) : open(random), length(random)));
    }
    return normals;
}

TEST(Draft, AngleBetweenFaceAndDrawDirection) {
    EXPECT_NEAR(in_deg(draft_of(facing(0), degrees(0))), 90.0, 1e-6);
    EXPECT_NEAR(in_deg(draft_of(facing(85), degrees(0))), 5.0, k_rounding * 100);
    EXPECT_NEAR(in_deg(draft_of(facing(85), degrees(3))), 8.0, k_rounding * 100);
    EXPECT_NEAR(in_deg(draft_of(facing(-95), degrees(0))), -5.0, k_rounding * 100);
    // A wall that leans by 60 degrees along the body too: half the sine.
    EXPECT_NEAR(std::sin(in_rad(draft_of(facing(60, 0.5), degrees(0)))), 0.25, k_rounding);
}

// Closed form: walls at 90 - 4 and -(90 - 7) degrees have 4 + t and 7 - t; equal at t = 1.5 with 5.5.
TEST(Draft, BestTiltSharesBetweenTheWalls) {
    const LeastDraft least({facing(86), facing(-83), facing(0)});
    const auto best = least.best(degrees(-20), degrees(20));
    EXPECT_NEAR(in_deg(best.tilt), 1.5, 1e-9);
    EXPECT_NEAR(in_deg(best.draft), 5.5, 1e-9);
    EXPECT_NEAR(in_deg(least.at(best.tilt)), 5.5, 1e-9);
    const auto enough = least.enough(degrees(3), degrees(-20), degrees(20));
    ASSERT_TRUE(enough);
    EXPECT_NEAR(in_deg(enough->from), -1.0, 1e-9);
    EXPECT_NEAR(in_deg(enough->to), 4.0, 1e-9);
    EXPECT_FALSE(least.enough(degrees(5.6), degrees(-20), degrees(20)));
    EXPECT_NEAR(in_deg(least.enough(degrees(3), degrees(2), degrees(20))->from), 2.0, 1e-9);
    EXPECT_FALSE(least.enough(degrees(3), degrees(5), degrees(20)));
    EXPECT_NEAR(in_deg(least.best(degrees(5), degrees(20)).tilt), 5.0, 1e-9);
}

TEST(Draft, OneFaceIsBestDrawnStraightAt) {
    const auto best = LeastDraft({facing(12, 0.9)}).best(degrees(-20), degrees(20));
    EXPECT_NEAR(in_deg(best.tilt), 12.0, 1e-9);
    EXPECT_NEAR(std::sin(in_rad(best.draft)), 0.9, k_rounding);
    EXPECT_NEAR(in_deg(LeastDraft({facing(40), facing(40)}).best(degrees(-20), degrees(20)).tilt), 20.0, 1e-9);
}

TEST(Draft, BehindItselfNoTiltHelps) {
    const LeastDraft least({facing(0), facing(120), facing(-120)});
    const auto best = least.best(degrees(-20), degrees(20));
    EXPECT_NEAR(in_deg(best.tilt), 0.0, 1e-9);
    EXPECT_NEAR(in_deg(best.draft), -30.0, 1e-9);
    EXPECT_FALSE(least.enough(degrees(0), degrees(-20), degrees(20)));
}

TEST(Draft, NeverWorseThanADenseScan) {
    std::mt19937 random(20);
    for (int round = 0; round < 200; ++round) {
        const LeastDraft least(by_chance(random, round % 2 == 0));
        const auto best = least.best(degrees(-60), degrees(75));
        EXPECT_NEAR(in_rad(least.at(best.tilt)), in_rad(best.draft), k_rounding);
        EXPECT_GE(best.tilt, degrees(-60));
        EXPECT_LE(best.tilt, degrees(75));
        for (double deg = -60.0; deg <= 75.0; deg += 0.05) {
            ASSERT_LE(in_rad(least.at(degrees(deg))), in_rad(best.draft) + k_rounding) << round << " at " << deg;
        }
    }
}

TEST(Draft, EnoughIsAllTiltsWithEnough) {
    std::mt19937 random(21);
    int some = 0;
    for (int round = 0; round < 300; ++round) {
        std::vector<Vector2d> normals;
        std::uniform_real_distribution<double> open(-88.0, 88.0);
        for (int i = 0; i < 4; ++i) {
            normals.push_back(facing(open(random)));
        }
        const LeastDraft least(normals);
        const Angle draft = degrees(12);
        const auto enough = least.enough(draft, degrees(-40), degrees(30));
        for (double deg = -40.0; deg <= 30.0; deg += 0.25) {
            const bool is_enough = least.at(degrees(deg)) >= draft;
            const bool said = enough && degrees(deg) >= enough->from && degrees(deg) <= enough->to;
            ASSERT_EQ(is_enough, said) << round << " at " << deg;
        }
        some += enough ? 1 : 0;
        if (enough && in_deg(enough->from) > -40.0) {
            EXPECT_NEAR(in_deg(least.at(enough->from)), 12.0, 1e-9);
        }
    }
    EXPECT_GT(some, 30);
    EXPECT_LT(some, 300);
}

TEST(Draft, TurnsWithTheBodyAndMirrorsWithIt) {
    std::mt19937 random(22);
    for (int round = 0; round < 50; ++round) {
        const auto normals = by_chance(random, false);
        const auto best = LeastDraft(normals).best(degrees(-30), degrees(30));
        const Angle by = degrees(-170.0 + 7.0 * round);
        const auto after = LeastDraft(turned(normals, by)).best(degrees(-30) + by, degrees(30) + by);
        EXPECT_NEAR(in_rad(after.tilt - by), in_rad(best.tilt), 1e-9);
        EXPECT_NEAR(in_rad(after.draft), in_rad(best.draft), 1e-9);
        std::vector<Vector2d> mirrored;
        for (const Vector2d& n : normals) {
            mirrored.emplace_back(n.x(), -n.y());
        }
        const auto mirror = LeastDraft(mirrored).best(degrees(-30), degrees(30));
        EXPECT_NEAR(in_rad(mirror.tilt), -in_rad(best.tilt), 1e-9);
        EXPECT_NEAR(in_rad(mirror.draft), in_rad(best.draft), 1e-9);
    }
}

}  // namespace
}  // namespace sillwright::geometry
