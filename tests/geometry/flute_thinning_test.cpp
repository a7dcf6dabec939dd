#include "geometry/flute_thinning.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "geometry/sheet_draping.h"

namespace sillwright::geometry {
namespace {

using std::numbers::pi;

Groove groove(double width, double depth, double radius, double wall_deg = 90) {
    return {millimetres(width), millimetres(depth), millimetres(radius), degrees(wall_deg)};
}

// Wedge: (sin b / b)(1 - h/H)^(tan b / b - 1); table worked out apart from this program, by the assumptions of the cone
// at bmi.berkeley.edu/Me221.
TEST(FluteThinning, FollowsTheWedge) {
    const double parts[] = {0, 0.25, 0.5, 0.75, 0.9};
    const struct {
        double deg, share[5];
    } rows[] = {{30, {0.9549, 0.9271, 0.8893, 0.8283, 0.7539}},
                {45, {0.9003, 0.8323, 0.7450, 0.6164, 0.4799}},
                {60, {0.8270, 0.6852, 0.5256, 0.3340, 0.1834}},
                {75, {0.7379, 0.4332, 0.2045, 0.0567, 0.0104}}};
    for (const auto& row : rows) {
        for (int i = 0; i < 5; ++i) {
            EXPECT_NEAR(wedge_share(degrees(row.deg), parts[i]), row.share[i], 5e-5) << row.deg << " " << parts[i];
        }
    }
}

// (2/pi) exp(-4 S / (pi W)): 0, 0.25, 0.5, 1.
TEST(FluteThinning, FollowsTheSquareTrough) {
    EXPECT_NEAR(square_trough_share(0), 0.6366, 5e-5);
    EXPECT_NEAR(square_trough_share(0.25), 0.4631, 5e-5);
    EXPECT_NEAR(square_trough_share(0.5), 0.3368, 5e-5);
    EXPECT_NEAR(square_trough_share(1), 0.1782, 5e-5);
}

// A cut of a round bit is the bulge itself: evenly thick, chord by arc. 24 round nose 6 deep: b = 60°, sin b / b =
// 0.8270.
TEST(FluteThinning, ARoundCutIsEvenlyThick) {
    const auto shares = groove_shares(groove(2 * std::sqrt(6.0 * 18.0), 6, 12));
    EXPECT_NEAR(shares.middle, std::sin(pi / 3) / (pi / 3), 1e-9);
    EXPECT_NEAR(shares.corner, shares.middle, 1e-9);
}

// Half round, deep enough for walls: the trough until the bulge touches the floor, 12 below where it hangs.
TEST(FluteThinning, ADeepRoundGrooveIsATrough) {
    const auto shares = groove_shares(groove(24, 18, 12));
    EXPECT_NEAR(shares.middle, 2 / pi * std::exp(-4.0 * 6 / (pi * 24)), 1e-9);
    EXPECT_NEAR(shares.corner, shares.middle, 1e-9);
}

// In small steps, with volume kept in each: the arc's foot goes out over the floor, then the corner is filled.
double corner_in_steps(double width, double depth, double radius, double wall, int steps) {
    double a = width / 2;
    const auto arc = [&](double foot) {
        const double turned = 2 * std::atan(depth / foot);
        return foot / std::sin(turned) * turned;
    };
    const double end = depth / std::tan(wall / 2);
    double thick = a / arc(a);
    for (int i = 0; i < steps; ++i) {
        const double next = a - (width / 2 - end) / steps;
        thick *= arc(a) / (arc(next) + (a - next));
        a = next;
    }
    double r = end / std::sin(wall);
    const double down = (r - radius) / steps;
    for (int i = 0; i < steps; ++i) {
        thick *= r * wall / ((r - down) * wall + 2 * down * std::tan(wall / 2));
        r -= down;
    }
    return thick;
}

TEST(FluteThinning, FillsAFlatBottomAsStepsDo) {
    const struct {
        double width, depth, radius, wall_deg;
    } cases[] = {{24, 6, 3, 90}, {24, 6, 3, 70}, {40, 5, 2, 90}, {21, 8, 4, 80}, {30, 3, 1, 60}};
    for (const auto& one : cases) {
        const auto shares = groove_shares(groove(one.width, one.depth, one.radius, one.wall_deg));
        const double bulge = 2 * std::atan(2 * one.depth / one.width);
        EXPECT_NEAR(shares.middle, std::sin(bulge) / bulge, 1e-9);
        const double wall = one.wall_deg * pi / 180;
        const double coarse = corner_in_steps(one.width, one.depth, one.radius, wall, 2000);
        const double fine = corner_in_steps(one.width, one.depth, one.radius, wall, 4000);
        EXPECT_NEAR(shares.corner, 2 * fine - coarse, 2e-6) << one.width << " " << one.wall_deg;
        EXPECT_LT(shares.corner, shares.middle);
    }
}

// All that came in at the mouth lies somewhere in the groove: by adding up what is laid down on the way.
TEST(FluteThinning, KeepsTheVolume) {
    // Floor first touched in the middle, then outward, then both sides of the corner down to its radius, which stays.
    const double width = 24, depth = 6, radius = 3;
    const double first = groove_shares(groove(width, depth, depth)).corner;  // spread to the walls, corner radius 6
    double laid = 0;
    constexpr int k_steps = 4000;
    // Over the floor: the share when the arc's foot stands at `a` is the corner's of walls that end its way there.
    for (int i = 0; i < k_steps; ++i) {
        const double a = 12 - (12 - depth) * (i + 0.5) / k_steps;
        const double wall = 2 * std::atan(depth / a);
        laid += (12 - depth) / k_steps * groove_shares(groove(width, depth, a / std::sin(wall))).corner;
    }
    for (int i = 0; i < k_steps; ++i) {
        const double r = depth - (depth - radius) * (i + 0.5) / k_steps;
        laid += 2 * (depth - radius) / k_steps * first * std::pow(r / depth, 4 / pi - 1);
    }
    laid += radius * pi / 2 * groove_shares(groove(width, depth, radius)).corner;
    EXPECT_NEAR(2 * laid, width, 1e-4);
}

TEST(FluteThinning, DeeperNarrowerAndSharperIsThinner) {
    const double usual = groove_shares(groove(24, 6, 3)).corner;
    EXPECT_LT(groove_shares(groove(24, 7, 3)).corner, usual);
    EXPECT_LT(groove_shares(groove(20, 6, 3)).corner, usual);
    EXPECT_LT(groove_shares(groove(24, 6, 2)).corner, usual);
    EXPECT_GT(groove_shares(groove(24, 6, 3, 70)).corner, usual);
    EXPECT_EQ(groove_shares(groove(24, 6, 0)).corner, 0.0) << "nothing comes into a sharp corner";
    EXPECT_NEAR(groove_shares(groove(24, 1e-6, 1e-7)).middle, 1.0, 1e-9);
}

TEST(FluteThinning, AWallThatIsNearlySquareIsAsOneThatIs) {
    const auto square = groove_shares(groove(20, 16, 4, 90));
    const auto nearly = groove_shares(groove(20, 16, 4, 89.99));
    EXPECT_NEAR(nearly.middle, square.middle, 2e-4);
    EXPECT_NEAR(nearly.corner, square.corner, 2e-4);
}

/// The groove from mouth to mouth, its bottom's corners by chords.
std::vector<Eigen::Vector2d> outline(double width, double depth, double radius, double wall) {
    constexpr int k_chords = 200;
    const double reach = radius * std::sin(wall) + (depth - radius * (1 - std::cos(wall))) / std::tan(wall);
    std::vector<Eigen::Vector2d> right;
    for (int i = 0; i <= k_chords; ++i) {
        const double turn = wall * i / k_chords;
        right.emplace_back(width / 2 - reach + radius * std::sin(turn), -depth + radius * (1 - std::cos(turn)));
    }
    right.emplace_back(width / 2, 0.0);
    std::vector<Eigen::Vector2d> all;
    for (auto p = right.rbegin(); p != right.rend(); ++p) {
        all.emplace_back(-p->x(), p->y());
    }
    all.insert(all.end(), right.begin(), right.end());
    return all;
}

// Two ways to one model: closed here, contact by contact over any outline there.
TEST(FluteThinning, AgreesWithTheSheetDrapedIntoIt) {
    const struct {
        double width, depth, radius, wall_deg;
    } cases[] = {{24, 6, 3, 90}, {24, 6, 3, 70}, {21, 8, 4, 80}, {30, 4, 2, 60}};
    for (const auto& one : cases) {
        const auto sheet = draped(outline(one.width, one.depth, one.radius, one.wall_deg * pi / 180),
                                  DrapeShape::trough, {millimetres(0.1), millimetres(0.001)});
        ASSERT_TRUE(sheet) << sheet.error().message;
        double least = 1.0;
        for (const DrapedPlace& place : sheet.value().places) {
            least = std::min(least, place.share);
        }
        EXPECT_NEAR(groove_shares(groove(one.width, one.depth, one.radius, one.wall_deg)).corner, least, 0.005)
            << one.width << " " << one.wall_deg;
    }
}

}  // namespace
}  // namespace sillwright::geometry
