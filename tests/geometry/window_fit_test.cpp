#include "geometry/window_fit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "geometry/seeded_draw.h"

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

constexpr double k_pi = std::numbers::pi;
constexpr double k_promised_mm = 1e-9;

std::vector<Vector2d> rectangle(double length, double width) {
    return {{0, 0}, {length, 0}, {length, width}, {0, width}};
}

std::vector<Vector2d> moved(const std::vector<Vector2d>& points, double turn, const Vector2d& shift, bool mirror) {
    std::vector<Vector2d> all;
    for (Vector2d p : points) {
        if (mirror) {
            p.y() = -p.y();
        }
        all.emplace_back(std::cos(turn) * p.x() - std::sin(turn) * p.y() + shift.x(),
                         std::sin(turn) * p.x() + std::cos(turn) * p.y() + shift.y());
    }
    return all;
}

/// A cloud of points about a long, bent body.
std::vector<Vector2d> random_outline(SeededDraw& draw) {
    std::vector<Vector2d> points;
    const int count = 3 + static_cast<int>(draw.uniform() * 30);
    const double length = 200 + 2000 * draw.uniform();
    const double width = 20 + 600 * draw.uniform();
    const double bend = 300 * (draw.uniform() - 0.5);
    for (int i = 0; i < count; ++i) {
        const double t = draw.uniform();
        points.emplace_back(length * t, width * draw.uniform() + bend * 4 * t * (1 - t));
    }
    return moved(points, 2 * k_pi * draw.uniform(), {1000 * draw.uniform(), -500 * draw.uniform()}, false);
}

double excess_at(const std::vector<Vector2d>& points, const Vector2d& window, double yaw) {
    return in_mm(window_fit_at(points, window, radians(yaw)).value().excess);
}

// The hull by its definition: all points on or left of each edge, every corner one of the points.
TEST(ConvexHull, HoldsAllPointsAndTurnsLeft) {
    SeededDraw draw(7, 0);
    for (int run = 0; run < 50; ++run) {
        const auto points = random_outline(draw);
        const auto hull = convex_hull(points);
        ASSERT_GE(hull.size(), 3U);
        for (std::size_t i = 0; i < hull.size(); ++i) {
            EXPECT_NE(std::find(points.begin(), points.end(), hull[i]), points.end());
            const Vector2d edge = hull[(i + 1) % hull.size()] - hull[i];
            for (const Vector2d& p : points) {
                EXPECT_GE(edge.x() * (p - hull[i]).y() - edge.y() * (p - hull[i]).x(), -1e-9 * edge.norm());
            }
        }
    }
}

TEST(ConvexHull, LeavesOutPointsOnItsEdges) {
    std::vector<Vector2d> points = rectangle(4, 2);
    points.insert(points.end(), {{2, 0}, {4, 1}, {2, 1}, {0, 0}, {1, 2}});
    EXPECT_EQ(convex_hull(points), rectangle(4, 2));
    EXPECT_EQ(convex_hull(std::vector<Vector2d>{{1, 1}, {3, 3}, {2, 2}}).size(), 2U);
    EXPECT_EQ(convex_hull(std::vector<Vector2d>{{1, 1}, {1, 1}}).size(), 1U);
    EXPECT_TRUE(convex_hull(std::vector<Vector2d>{}).empty());
}

// W. Carver, The rectangle in a rectangle, Amer. Math. Monthly 64 (1957), from memory: p x q goes into a x b with p > a
// just if q <= a and b >= (2 p q a + (p^2 - q^2) sqrt(p^2 + q^2 - a^2)) / (p^2 + q^2). So in the window whose b is
// that least one nothing stands out and nothing is to spare.
TEST(WindowFit, ALongRectangleInTheLeastWindowThatTakesIt) {
    int tried = 0;
    for (const double p : {1200.0, 1860.0, 2040.0}) {
        for (const double q : {40.0, 150.0, 333.3}) {
            for (const double a : {0.85 * p, 0.95 * p, p - 0.01}) {
                const double b = (2 * p * q * a + (p * p - q * q) * std::sqrt(p * p + q * q - a * a)) / (p * p + q * q);
                if (b > a) {
                    continue;
                }
                ++tried;
                const auto fit = window_fit(rectangle(p, q), {a, b}).value();
                EXPECT_NEAR(in_mm(fit.excess), 0.0, k_promised_mm) << p << " x " << q << " in " << a;
                EXPECT_LT(in_mm(window_fit(rectangle(p, q), {a, b + 0.001}).value().excess), 0.0);
                EXPECT_GT(in_mm(window_fit(rectangle(p, q), {a, b - 0.001}).value().excess), 0.0);
            }
        }
    }
    EXPECT_GE(tried, 12);
}

// A needle of length l in a window a x b, b < a: both overhangs equal, l cos t - a = l sin t - b.
TEST(WindowFit, ANeedleLiesWhereBothOverhangsAreEqual) {
    const double l = 2000;
    const double t = std::acos((1800 - 600) / (l * std::sqrt(2.0))) - k_pi / 4;
    const auto fit = window_fit(std::vector<Vector2d>{{0, 0}, {l, 0}, {l / 2, 0}}, {1800, 600}).value();
    EXPECT_NEAR(in_rad(fit.yaw), t, 1e-12);
    EXPECT_NEAR(in_mm(fit.excess), l * std::cos(t) - 1800, k_promised_mm);
}

TEST(WindowFit, ASquareInASquareLiesStraight) {
    const auto fit = window_fit(rectangle(500, 500), {400, 400}).value();
    EXPECT_NEAR(in_mm(fit.excess), 100, k_promised_mm);
    EXPECT_EQ(in_rad(fit.yaw), 0.0);
    // On its corner it is turned back by half a right angle; of the two ways the positive one.
    const auto corner = window_fit(moved(rectangle(500, 500), k_pi / 4, {3, 4}, false), {400, 400}).value();
    EXPECT_NEAR(in_mm(corner.excess), 100, k_promised_mm);
    EXPECT_NEAR(in_rad(corner.yaw), k_pi / 4, 1e-12);
}

TEST(WindowFit, AcrossIsExact) {
    const auto fit = window_fit_at(rectangle(1840, 146.3), {146.3, 1840}, radians(k_pi / 2)).value();
    EXPECT_EQ(in_mm(fit.excess), 0.0);
}

TEST(WindowFit, APointIsSmallerThanAWindowByAllOfIt) {
    const auto fit = window_fit(std::vector<Vector2d>{{12, -7}, {12, -7}}, {300, 200}).value();
    EXPECT_EQ(in_mm(fit.excess), -200);
    EXPECT_EQ(in_rad(fit.yaw), 0.0);
    EXPECT_EQ(fit.shift_mm, Vector2d(-12, 7));
}

// A window of which more was taken off than it had.
TEST(WindowFit, AWindowBelowZeroIsTooSmallByMore) {
    EXPECT_NEAR(in_mm(window_fit(rectangle(100, 10), {200, -40}).value().excess), 50.0, k_promised_mm);
}

// Between two steps of the scan no overhang changes by more than the outline's diameter times half a step.
TEST(WindowFit, IsNeverWorseThanADenseScanAndBetterByItsStepAtMost) {
    constexpr int k_steps = 4000;
    SeededDraw draw(2024, 1);
    for (int run = 0; run < 200; ++run) {
        SCOPED_TRACE(run);
        const auto points = random_outline(draw);
        const Vector2d window(300 + 1800 * draw.uniform(), 200 + 900 * draw.uniform());
        double scanned = std::numeric_limits<double>::infinity();
        for (int i = 0; i < k_steps; ++i) {
            scanned = std::min(scanned, excess_at(points, window, k_pi * i / k_steps));
        }
        double diameter = 0.0;
        for (const Vector2d& p : points) {
            for (const Vector2d& q : points) {
                diameter = std::max(diameter, (p - q).norm());
            }
        }
        const double found = in_mm(window_fit(points, window).value().excess);
        EXPECT_LE(found, scanned + k_promised_mm);
        EXPECT_GE(found, scanned - diameter * 0.5 * k_pi / k_steps);
    }
}

TEST(WindowFit, DoesNotDependOnHowTheOutlineLay) {
    SeededDraw draw(5, 2);
    for (int run = 0; run < 100; ++run) {
        SCOPED_TRACE(run);
        const auto points = random_outline(draw);
        const Vector2d window(300 + 1800 * draw.uniform(), 200 + 900 * draw.uniform());
        const double found = in_mm(window_fit(points, window).value().excess);
        const double turn = 7.0 * draw.uniform();
        for (const bool mirror : {false, true}) {
            const auto other = moved(points, turn, {-4000 * draw.uniform(), 900}, mirror);
            EXPECT_NEAR(in_mm(window_fit(other, window).value().excess), found, k_promised_mm);
        }
        // The window turned by a right angle.
        EXPECT_NEAR(in_mm(window_fit(points, {window.y(), window.x()}).value().excess), found, k_promised_mm);
    }
}

TEST(WindowFit, PlacesTheOutlineInTheMiddle) {
    SeededDraw draw(9, 3);
    for (int run = 0; run < 50; ++run) {
        const auto points = random_outline(draw);
        const Vector2d window(1500, 400);
        const auto fit = window_fit(points, window).value();
        EXPECT_GT(in_rad(fit.yaw), -k_pi / 2);
        EXPECT_LE(in_rad(fit.yaw), k_pi / 2);
        const auto placed = moved(points, in_rad(fit.yaw), fit.shift_mm, false);
        Vector2d low = placed.front();
        Vector2d high = placed.front();
        for (const Vector2d& p : placed) {
            low = low.cwiseMin(p);
            high = high.cwiseMax(p);
        }
        EXPECT_NEAR((low + high).norm(), 0.0, k_promised_mm);
        EXPECT_NEAR((high - low - window).maxCoeff(), in_mm(fit.excess), k_promised_mm);
    }
}

TEST(WindowFit, RefusesWhatIsNoOutline) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_EQ(window_fit(std::vector<Vector2d>{}, {1, 1}).error().code, ErrorCode::invalid_argument);
    EXPECT_EQ(window_fit(std::vector<Vector2d>{{nan, 0}}, {1, 1}).error().code, ErrorCode::invalid_argument);
    EXPECT_EQ(window_fit(rectangle(1, 1), {nan, 1}).error().code, ErrorCode::invalid_argument);
    EXPECT_EQ(window_fit_at(rectangle(1, 1), {1, 1}, radians(nan)).error().code, ErrorCode::invalid_argument);
    EXPECT_EQ(window_fit_at(std::vector<Vector2d>{}, {1, 1}, radians(0)).error().code, ErrorCode::invalid_argument);
}

}  // namespace
}  // namespace sillwright::geometry
