#include "geometry/arc_fit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

constexpr Length k_tolerance = millimetres(0.005);

std::vector<Vector2d> on_circle(const Vector2d& centre, double radius, double from, double to, int count) {
    std::vector<Vector2d> points;
    for (int i = 0; i <= count; ++i) {
        const double at = from + (to - from) * i / count;
        points.push_back(centre + radius * Vector2d(std::cos(at), std::sin(at)));
    }
    return points;
}

void expect_through(const std::vector<Segment>& segments, const std::vector<Vector2d>& points, double tolerance) {
    ASSERT_FALSE(segments.empty());
    EXPECT_NEAR((start_point(segments.front()) - points.front()).norm(), 0.0, 1e-9);
    EXPECT_NEAR((end_point(segments.back()) - points.back()).norm(), 0.0, 1e-9);
    for (std::size_t i = 0; i + 1 < segments.size(); ++i) {
        EXPECT_NEAR((end_point(segments[i]) - start_point(segments[i + 1])).norm(), 0.0, 1e-9) << i;
    }
    for (const Vector2d& p : points) {
        double least = 1e9;
        for (const Segment& segment : segments) {
            least = std::min(least, in_mm(distance_to(segment, p)));
        }
        EXPECT_LE(least, tolerance);
    }
}

TEST(ArcFit, APointRowOnAStraightIsOneStraight) {
    std::vector<Vector2d> points;
    for (int i = 0; i <= 50; ++i) {
        points.emplace_back(3.0 * i, 10.0 - 0.7 * i);
    }
    const auto segments = lines_and_arcs(points, k_tolerance, 7);
    ASSERT_EQ(segments.size(), 1U);
    EXPECT_TRUE(std::holds_alternative<LineSegment>(segments.front().shape));
    EXPECT_EQ(segments.front().node, 7U);
    expect_through(segments, points, 1e-9);
}

TEST(ArcFit, APointRowOnACircleIsThatArc) {
    for (const bool anticlockwise : {true, false}) {
        const double to = anticlockwise ? 2.9 : -2.5;
        const auto points = on_circle({12.0, -40.0}, 6.5, 0.2, to, 17);
        const auto segments = lines_and_arcs(points, k_tolerance, 0);
        ASSERT_EQ(segments.size(), 1U);
        const auto* const arc = std::get_if<ArcSegment>(&segments.front().shape);
        ASSERT_NE(arc, nullptr);
        EXPECT_NEAR(arc->radius_mm, 6.5, 1e-9);
        EXPECT_NEAR((arc->centre - Vector2d(12.0, -40.0)).norm(), 0.0, 1e-9);
        EXPECT_NEAR(in_rad(arc->sweep), to - 0.2, 1e-9);
    }
}

TEST(ArcFit, AStraightThatRunsIntoAnArcIsTwo) {
    auto points = on_circle({0.0, 10.0}, 10.0, -std::numbers::pi / 2.0, 0.0, 20);
    for (int i = 1; i <= 20; ++i) {
        points.insert(points.begin(), Vector2d(-2.0 * i, 0.0));
    }
    const auto segments = lines_and_arcs(points, k_tolerance, 0);
    expect_through(segments, points, in_mm(k_tolerance));
    EXPECT_LE(segments.size(), 3U);
    EXPECT_TRUE(std::holds_alternative<LineSegment>(segments.front().shape));
    EXPECT_TRUE(std::holds_alternative<ArcSegment>(segments.back().shape));
}

/// An ellipse is no arc: more of them the finer it must be, each point within the tolerance.
TEST(ArcFit, AnEllipseTakesMoreArcsTheFinerItMustBe) {
    std::vector<Vector2d> points;
    for (int i = 0; i <= 400; ++i) {
        const double t = std::numbers::pi * i / 400.0;
        points.emplace_back(60.0 * std::cos(t), 30.0 * std::sin(t));
    }
    std::size_t before = 0;
    for (const double tolerance : {0.5, 0.05, 0.005, 0.0005}) {
        const auto segments = lines_and_arcs(points, millimetres(tolerance), 0);
        expect_through(segments, points, tolerance);
        EXPECT_GT(segments.size(), before);
        before = segments.size();
    }
    EXPECT_LT(before, 60U);
}

TEST(ArcFit, LiesTheSameInAnyFrame) {
    std::vector<Vector2d> points;
    for (int i = 0; i <= 100; ++i) {
        points.emplace_back(i, 0.002 * i * i);
    }
    const auto straight = lines_and_arcs(points, k_tolerance, 0);
    std::vector<Vector2d> turned;
    for (const Vector2d& p : points) {
        turned.emplace_back(0.6 * p.x() - 0.8 * p.y() + 500.0, 0.8 * p.x() + 0.6 * p.y() - 900.0);
    }
    const auto other = lines_and_arcs(turned, k_tolerance, 0);
    ASSERT_EQ(straight.size(), other.size());
    for (std::size_t i = 0; i < other.size(); ++i) {
        EXPECT_NEAR(in_mm(length(straight[i])), in_mm(length(other[i])), 1e-6);
    }
}

TEST(ArcFit, PointsAtOnePlaceAreOne) {
    EXPECT_TRUE(lines_and_arcs({}, k_tolerance, 0).empty());
    EXPECT_TRUE(lines_and_arcs({{1, 2}, {1, 2}, {1, 2}}, k_tolerance, 0).empty());
    EXPECT_EQ(lines_and_arcs({{1, 2}, {1, 2}, {5, 2}, {5, 2}}, k_tolerance, 0).size(), 1U);
}

TEST(ArcFit, ACornerIsKept) {
    const std::vector<Vector2d> points{{0, 0}, {10, 0}, {20, 0}, {30, 0}, {30, 10}, {30, 20}, {30, 30}};
    const auto segments = lines_and_arcs(points, k_tolerance, 0);
    expect_through(segments, points, in_mm(k_tolerance));
    EXPECT_EQ(segments.size(), 2U);
}

}  // namespace
}  // namespace sillwright::geometry
