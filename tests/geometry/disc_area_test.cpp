#include "geometry/disc_area.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <random>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;
using std::numbers::pi;
using Polygon = std::vector<Vector2d>;

Polygon box(double x0, double y0, double x1, double y1) {
    return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

double over(const Polygon& polygon, const Vector2d& centre, double radius) {
    return disc_over_polygon_mm2(polygon, centre, millimetres(radius));
}

// Circular segment beyond a chord at distance c: r² acos(c/r) - c sqrt(r² - c²).
double segment(double r, double c) {
    return r * r * std::acos(c / r) - c * std::sqrt(r * r - c * c);
}

TEST(DiscArea, WholeNoneHalfAndQuarter) {
    EXPECT_NEAR(over(box(-9, -9, 9, 9), {0, 0}, 5), pi * 25, 1e-9);
    EXPECT_NEAR(over(box(-1, -1, 1, 1), {0, 0}, 5), 4, 1e-9) << "all of the polygon";
    EXPECT_NEAR(over(box(6, -9, 9, 9), {0, 0}, 5), 0, 1e-9);
    EXPECT_NEAR(over(box(0, -9, 9, 9), {0, 0}, 5), pi * 25 / 2, 1e-9);
    EXPECT_NEAR(over(box(0, 0, 9, 9), {0, 0}, 5), pi * 25 / 4, 1e-9);
}

TEST(DiscArea, AStripLeavesTwoCircularSegments) {
    EXPECT_NEAR(over(box(-500, -13, 500, 62), {0, 0}, 75), pi * 75 * 75 - segment(75, 13) - segment(75, 62), 1e-6);
}

TEST(DiscArea, IsTheSameEitherWayRoundTurnedAndMoved) {
    const Polygon plain{{-3, -2}, {4, -1}, {1, 1}, {3, 5}, {-4, 3}};
    const double area = over(plain, {0.5, 0.5}, 3);
    EXPECT_NEAR(over({plain.rbegin(), plain.rend()}, {0.5, 0.5}, 3), area, 1e-9);
    const Eigen::Rotation2Dd turn(0.7);
    Polygon turned;
    for (const Vector2d& p : plain) {
        turned.emplace_back(turn * p + Vector2d(30, -7));
    }
    EXPECT_NEAR(over(turned, turn * Vector2d(0.5, 0.5) + Vector2d(30, -7), 3), area, 1e-9);
}

// Counted on a fine grid: an independent way, good to a cell along the rim.
TEST(DiscArea, AgreesWithCountingCells) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> about(-4, 4);
    for (int trial = 0; trial < 20; ++trial) {
        const Polygon triangle{{about(random), about(random)}, {about(random), about(random)}, {about(random), 5}};
        const double r = 1.0 + std::abs(about(random));
        const auto left = [](const Vector2d& a, const Vector2d& b, const Vector2d& p) {
            return (b - a).x() * (p - a).y() - (b - a).y() * (p - a).x() > 0;
        };
        double counted = 0;
        constexpr double k_cell = 0.02;
        for (double x = -6; x < 6; x += k_cell) {
            for (double y = -6; y < 6; y += k_cell) {
                const Vector2d p(x, y);
                const bool one = left(triangle[0], triangle[1], p);
                if (p.norm() < r && one == left(triangle[1], triangle[2], p) &&
                    one == left(triangle[2], triangle[0], p)) {
                    counted += k_cell * k_cell;
                }
            }
        }
        EXPECT_NEAR(over(triangle, {0, 0}, r), counted, 0.1) << trial;
    }
}

TEST(DiscArea, OfNothingIsNothing) {
    EXPECT_EQ(over({}, {0, 0}, 5), 0.0);
    EXPECT_EQ(over({{0, 0}, {1, 1}}, {0, 0}, 5), 0.0);
    EXPECT_NEAR(over({{1, 1}, {1, 1}, {4, 1}, {4, 4}}, {0, 0}, 50), 4.5, 1e-9) << "a corner twice";
}

}  // namespace
}  // namespace sillwright::geometry
