#include "core/survey/shown.h"

#include <gtest/gtest.h>

#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "core/survey/start.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr ReadingKind k_all[]{ReadingKind::tie,   ReadingKind::height, ReadingKind::offset, ReadingKind::plane,
                              ReadingKind::along, ReadingKind::out,    ReadingKind::up,     ReadingKind::gauge,
                              ReadingKind::gap,   ReadingKind::depth,  ReadingKind::angle,  ReadingKind::slope};

double value(ReadingKind kind, const std::vector<Vector3d>& p, const Vector2d& lean = Vector2d::Zero(),
             double tilt = 0.0, int number = 0) {
    return shown(kind, number, p, lean, tilt).value;
}

// Values by hand, in a car frame without lean.
TEST(Shown, NumbersOfEachKindByHand) {
    const Vector3d o = Vector3d::Zero();
    EXPECT_DOUBLE_EQ(value(ReadingKind::tie, {{1, 2, 3}, {1, 5, 7}}), 5.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::height, {{0, 0, 10}, {500, 20, 4}}), -6.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::along, {{1, 0, 0}, {4, 9, 9}}), 3.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::out, {{1, 2, 0}, {4, 9, 9}}), 7.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::up, {{1, 2, 1}, {4, 9, 9}}), 8.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::angle, {o, {3, 0, 0}, {0, 0, 8}}), std::numbers::pi / 2.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::slope, {o, {3, 4, 5}}), std::numbers::pi / 4.0);
}

TEST(Shown, OutsideOfAStringIsPositiveWhicheverWayItRuns) {
    const Vector3d front(0, 100, 50), rear(1000, 100, 80), point(300, 130, -200);
    EXPECT_DOUBLE_EQ(value(ReadingKind::offset, {front, rear, point}), 30.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::offset, {rear, front, point}), 30.0);
    // Across the car: to the rear.
    const Vector3d inner(500, 0, 0), outer(500, 800, 0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::offset, {inner, outer, point}), -200.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::offset, {outer, inner, point}), -200.0);
}

TEST(Shown, UpperOrOuterSideOfAPlaneIsPositive) {
    const Vector3d a(0, 0, 10), b(100, 0, 10), c(0, 100, 10);
    EXPECT_DOUBLE_EQ(value(ReadingKind::plane, {a, b, c, {40, 40, 17}}), 7.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::plane, {a, c, b, {40, 40, 17}}), 7.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::plane, {{0, 5, 0}, {9, 5, 0}, {0, 5, 9}, {1, 3, 1}}), -2.0);
}

// A gauge whose outer end stands 90 degrees high would read up as out, and inward as up.
TEST(Shown, TheGaugesOwnAxesTurnWithIt) {
    const std::vector<Vector3d> p{{0, 0, 0}, {1.5, 3, 7}};
    const double quarter = std::numbers::pi / 2.0;
    EXPECT_DOUBLE_EQ(value(ReadingKind::gauge, p, {0, 0}, 0.0, 0), 3.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::gauge, p, {0, 0}, 0.0, 1), 7.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::gauge, p, {0, 0}, quarter, 0), 7.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::gauge, p, {0, 0}, quarter, 1), -3.0);
    EXPECT_DOUBLE_EQ(value(ReadingKind::gauge, p, {0, 0}, quarter, 2), 1.5);
    EXPECT_STREQ(number_name(ReadingKind::gauge, 2), "along");
}

// The car rolled by 0.3 degrees shifts a plumb reading by 2.6 mm at 500 mm across: sin(0.3 deg) * 500 = 2.618.
TEST(Shown, ALeanMovesHeightsButNotTies) {
    const std::vector<Vector3d> p{{0, 0, 0}, {0, 500, 0}};
    const Vector2d roll(0.3 * std::numbers::pi / 180.0, 0.0);
    EXPECT_NEAR(value(ReadingKind::height, p, roll), 2.618, 0.0005);
    EXPECT_DOUBLE_EQ(value(ReadingKind::tie, p, roll), 500.0);
    EXPECT_NEAR(plumb_up({0.1, -0.2}).norm(), 1.0, 1e-15);
}

/// The derivative by central difference: with h = 1e-4 of a few hundred mm the cut-off is below 1e-9 of the value's
/// curvature and rounding below 1e-13 * 1e3 / 1e-4.
struct Place {
    std::vector<Vector3d> p;
    Vector2d lean;
    double tilt;
};

TEST(Shown, DerivativesAgreeWithDifferences) {
    std::mt19937 random(4);
    std::uniform_real_distribution<double> coordinate(-600.0, 600.0), lean(-0.2, 0.2);
    constexpr double k_h_mm = 1e-3, k_h_rad = 1e-6, k_near = 1e-6, k_near_per_rad = 1e-3;
    for (int round = 0; round < 20; ++round) {
        for (const ReadingKind kind : k_all) {
            for (int number = 0; number < number_count(kind); ++number) {
                SCOPED_TRACE("kind " + std::to_string(static_cast<int>(kind)));
                Place at{{}, {lean(random), lean(random)}, lean(random)};
                for (int i = 0; i < point_count(kind); ++i) {
                    at.p.emplace_back(coordinate(random), coordinate(random), coordinate(random));
                }
                const Shown s = shown(kind, number, at.p, at.lean, at.tilt);
                const auto difference = [&](double& x, double h) {
                    const double kept = x;
                    x = kept + h;
                    const double more = value(kind, at.p, at.lean, at.tilt, number);
                    x = kept - h;
                    const double less = value(kind, at.p, at.lean, at.tilt, number);
                    x = kept;
                    return (more - less) / (2.0 * h);
                };
                for (int i = 0; i < point_count(kind); ++i) {
                    for (int k = 0; k < 3; ++k) {
                        EXPECT_NEAR(s.by_point(k, i), difference(at.p[static_cast<std::size_t>(i)][k], k_h_mm), k_near);
                    }
                }
                EXPECT_NEAR(s.by_lean.x(), difference(at.lean.x(), k_h_rad), k_near_per_rad);
                EXPECT_NEAR(s.by_lean.y(), difference(at.lean.y(), k_h_rad), k_near_per_rad);
                EXPECT_NEAR(s.by_tilt, difference(at.tilt, k_h_rad), k_near_per_rad);
            }
        }
    }
}

TEST(Shown, PointsThatCoincideGiveNumbersStill) {
    const Vector3d o(1, 2, 3);
    for (const ReadingKind kind : k_all) {
        const std::vector<Vector3d> p(static_cast<std::size_t>(point_count(kind)), o);
        for (int number = 0; number < number_count(kind); ++number) {
            const Shown s = shown(kind, number, p, {0, 0}, 0.0);
            EXPECT_TRUE(std::isfinite(s.value) && s.by_point.allFinite() && s.by_lean.allFinite());
        }
    }
}

}  // namespace
}  // namespace sillwright::core::survey
