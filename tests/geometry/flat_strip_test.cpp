#include "geometry/flat_strip.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

TEST(FlatStrip, LaysAnEvenStripAsItIs) {
    const auto strip = FlatStrip::of({{{5.0, 1.0, 2.0}, {5.0, 41.0, 2.0}}, {{105.0, 1.0, 2.0}, {105.0, 41.0, 2.0}}});
    ASSERT_TRUE(strip);
    EXPECT_NEAR((strip.value().near_mm()[1] - Vector2d(100.0, 0.0)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((strip.value().far_mm()[1] - Vector2d(100.0, 40.0)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((strip.value().at({35.0, 11.0, 2.0}) - Vector2d(30.0, 10.0)).norm(), 0.0, 1e-9);
    EXPECT_NEAR(strip.value().misfit_mm(), 0.0, 1e-9);
}

// A strip of a cylinder's mantle is as long as its arc, and straight.
TEST(FlatStrip, UnrollsACylinder) {
    constexpr double k_radius = 3000.0;
    constexpr int k_parts = 200;
    std::vector<Rung> rungs;
    for (int i = 0; i <= k_parts; ++i) {
        const double angle = 0.6 * i / k_parts;
        const Vector3d on(k_radius * std::sin(angle), 0.0, k_radius * (1.0 - std::cos(angle)));
        rungs.push_back({on, on + Vector3d(0.0, 50.0, 0.0)});
    }
    const auto strip = FlatStrip::of(rungs);
    ASSERT_TRUE(strip);
    EXPECT_NEAR(strip.value().near_mm().back().x(), 0.6 * k_radius, 1e-3);
    EXPECT_NEAR(strip.value().far_mm()[100].x(), 0.3 * k_radius, 1e-3);
    EXPECT_NEAR(strip.value().far_mm()[100].y(), 50.0, 1e-9);
}

// A strip of a cone's mantle bends in its own plane: (closed form) a sector with the cone's slant as its radius.
TEST(FlatStrip, UnrollsAConeToASector) {
    constexpr double k_slope = 0.1;  // rise per unit of the cone's base radius
    constexpr int k_parts = 400;
    const double slant = 2000.0 * std::sqrt(1.0 + k_slope * k_slope);
    const auto place = [&](double radius, double angle) {
        return Vector3d(radius * std::sin(angle), -radius * std::cos(angle), k_slope * radius);
    };
    std::vector<Rung> rungs;
    for (int i = 0; i <= k_parts; ++i) {
        const double angle = 0.5 * i / k_parts;
        rungs.push_back({place(2000.0, angle), place(1900.0, angle)});
    }
    const auto strip = FlatStrip::of(rungs);
    ASSERT_TRUE(strip);
    const double turn = 0.5 * 2000.0 / slant;
    EXPECT_NEAR(strip.value().near_mm().back().x(), 2.0 * slant * std::sin(turn / 2.0), 1e-2);
    const double sagitta = slant * (1.0 - std::cos(turn / 2.0));
    EXPECT_NEAR(std::abs(strip.value().near_mm()[k_parts / 2].y()), sagitta, 1e-2);
    EXPECT_LT(strip.value().misfit_mm(), 1e-2);
}

TEST(FlatStrip, SaysHowFarATwistedStripMisfits) {
    std::vector<Rung> rungs;
    for (int i = 0; i <= 100; ++i) {
        const double angle = std::numbers::pi / 4.0 * i / 100.0;
        const Vector3d on(10.0 * i, 0.0, 0.0);
        rungs.push_back({on, on + 60.0 * Vector3d(0.0, std::cos(angle), std::sin(angle))});
    }
    const auto strip = FlatStrip::of(rungs);
    ASSERT_TRUE(strip);
    EXPECT_GT(strip.value().misfit_mm(), 1e-4);
    // No edge is stretched.
    EXPECT_NEAR((strip.value().near_mm()[40] - strip.value().near_mm()[39]).norm(), 10.0, 1e-9);
    EXPECT_NEAR((strip.value().far_mm()[40] - strip.value().near_mm()[40]).norm(), 60.0, 1e-9);
}

TEST(FlatStrip, RefusesWhatHasNoExtent) {
    EXPECT_FALSE(FlatStrip::of({{{0.0, 0.0, 0.0}, {0.0, 1.0, 0.0}}}));
    EXPECT_FALSE(FlatStrip::of({{{0.0, 0.0, 0.0}, {0.0, 1.0, 0.0}}, {{0.0, 0.0, 0.0}, {1.0, 1.0, 0.0}}}));
    EXPECT_FALSE(FlatStrip::of({{{0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}}, {{1.0, 0.0, 0.0}, {1.0, 1.0, 0.0}}}));
}

}  // namespace
}  // namespace sillwright::geometry
