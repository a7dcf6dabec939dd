#include "geometry/segment_intersection.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <random>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

constexpr Length k_slack = millimetres(1e-6);
constexpr double k_rounding = 1e-12;

Segment line(const Vector2d& from, const Vector2d& to) {
    return {LineSegment{from, to}, 0};
}

Segment arc(const Vector2d& centre, double radius, double start_degrees, double sweep_degrees) {
    return {ArcSegment{centre, radius, degrees(start_degrees), degrees(sweep_degrees)}, 0};
}

Segment circle(const Vector2d& centre, double radius) {
    return arc(centre, radius, 77, 360);
}

/// Distance from `p` to the nearest of the places found; infinite if none was.
double off(const std::vector<Vector2d>& found, const Vector2d& p) {
    double least = std::numeric_limits<double>::infinity();
    for (const Vector2d& q : found) {
        least = std::min(least, (q - p).norm());
    }
    return least;
}

TEST(MeetingPoints, TwoLinesCrossOnceOrNotAtAll) {
    const auto found = meeting_points(line({0, 0}, {10, 10}), line({0, 6}, {6, 0}), k_slack);
    ASSERT_EQ(found.size(), 1U);
    EXPECT_LE(off(found, {3, 3}), k_rounding);
    EXPECT_TRUE(meeting_points(line({0, 0}, {2, 2}), line({0, 6}, {6, 0}), k_slack).empty());
    EXPECT_TRUE(meeting_points(line({0, 0}, {10, 0}), line({0, 1}, {10, 1}), k_slack).empty());
}

TEST(MeetingPoints, AnEndOnALineIsAMeeting) {
    EXPECT_LE(off(meeting_points(line({0, 0}, {10, 0}), line({4, 0}, {4, 9}), k_slack), {4, 0}), k_rounding);
    EXPECT_LE(off(meeting_points(line({0, 0}, {10, 0}), line({4, 5e-7}, {4, 9}), k_slack), {4, 0}), 1e-6);
    EXPECT_TRUE(meeting_points(line({0, 0}, {10, 0}), line({4, 2e-6}, {4, 9}), k_slack).empty());
}

TEST(MeetingPoints, OverlapsAreCutWhereTheyBeginAndEnd) {
    const auto lines = meeting_points(line({0, 0}, {10, 0}), line({14, 0}, {6, 0}), k_slack);
    EXPECT_LE(off(lines, {6, 0}), k_rounding);
    EXPECT_LE(off(lines, {10, 0}), k_rounding);
    const Segment a = arc({0, 0}, 10, 0, 90);
    const Segment b = arc({0, 0}, 10, 180, -120);
    const auto arcs = meeting_points(a, b, k_slack);
    EXPECT_LE(off(arcs, end_point(a)), k_rounding);
    EXPECT_LE(off(arcs, end_point(b)), k_rounding);
}

TEST(MeetingPoints, ALineThroughACircleMeetsItTwice) {
    // 6-8-10.
    const auto found = meeting_points(line({6, -20}, {6, 20}), circle({0, 0}, 10), k_slack);
    ASSERT_EQ(found.size(), 2U);
    EXPECT_LE(off(found, {6, 8}), k_rounding);
    EXPECT_LE(off(found, {6, -8}), k_rounding);
    // Half the circle, or half the line, has one of them.
    EXPECT_EQ(meeting_points(line({6, -20}, {6, 20}), arc({0, 0}, 10, 0, 180), k_slack).size(), 1U);
    EXPECT_EQ(meeting_points(arc({0, 0}, 10, 0, 360), line({6, 0}, {6, 20}), k_slack).size(), 1U);
}

TEST(MeetingPoints, TouchesWithinTheSlackCountAndMissesDoNot) {
    const auto at_height = [](double y) {
        return meeting_points(line({-20, y}, {20, y}), circle({0, 0}, 10), k_slack);
    };
    EXPECT_LE(off(at_height(10.0), {0, 10}), 1e-6);
    EXPECT_LE(off(at_height(10.0 + 9e-7), {0, 10}), 1e-6);
    EXPECT_TRUE(at_height(10.0 + 2e-6).empty());
}

TEST(MeetingPoints, TwoCirclesMeetTwiceTouchInsideAndOutsideOrMiss) {
    // 5-12-13 on either side of the chord x = 5.
    const auto twice = meeting_points(circle({0, 0}, 13), circle({14, 0}, 15), k_slack);
    ASSERT_EQ(twice.size(), 2U);
    EXPECT_LE(off(twice, {5, 12}), k_rounding);
    EXPECT_LE(off(twice, {5, -12}), k_rounding);
    EXPECT_LE(off(meeting_points(circle({0, 0}, 10), circle({15, 0}, 5), k_slack), {10, 0}), 1e-6);
    EXPECT_LE(off(meeting_points(circle({0, 0}, 10), circle({4, 0}, 6), k_slack), {10, 0}), 1e-6);
    EXPECT_TRUE(meeting_points(circle({0, 0}, 10), circle({16, 0}, 5), k_slack).empty());
    EXPECT_TRUE(meeting_points(circle({0, 0}, 10), circle({1, 0}, 5), k_slack).empty());
    EXPECT_TRUE(meeting_points(circle({0, 0}, 10), circle({0, 0}, 5), k_slack).empty());
}

TEST(MeetingPoints, AreOnBothSegmentsAndTheSameEitherWayRound) {
    std::mt19937 engine{9};
    std::uniform_real_distribution<double> place{-20.0, 20.0};
    const auto random_segment = [&](bool is_arc) {
        const Vector2d p{place(engine), place(engine)};
        const Vector2d q{place(engine), place(engine)};
        return is_arc ? arc(p, std::abs(q.x()) + 0.1, 18.0 * q.y(), 18.0 * place(engine) + 0.01) : line(p, q);
    };
    int met = 0;
    for (int i = 0; i < 2000; ++i) {
        const Segment a = random_segment(i % 2 == 0);
        const Segment b = random_segment(i % 4 < 2);
        const auto found = meeting_points(a, b, k_slack);
        const auto other = meeting_points(b, a, k_slack);
        EXPECT_EQ(found.size(), other.size());
        for (const Vector2d& p : found) {
            EXPECT_LE(in_mm(distance_to(a, p)), 1e-9);
            EXPECT_LE(in_mm(distance_to(b, p)), 1e-9);
            EXPECT_LE(off(other, p), 1e-6);
        }
        met += found.empty() ? 0 : 1;
    }
    EXPECT_GE(met, 300);
}

TEST(MeetingPoints, NoneIsMissedWhereTheSideChanges) {
    // A segment whose ends are on different sides of a circle crosses it an odd number of times.
    std::mt19937 engine{10};
    std::uniform_real_distribution<double> place{-20.0, 20.0};
    for (int i = 0; i < 2000; ++i) {
        const Segment s =
            i % 2 == 0 ? line({place(engine), place(engine)}, {place(engine), place(engine)})
                       : arc({place(engine), place(engine)}, 11.0, 18.0 * place(engine), 18.0 * place(engine) + 0.01);
        const auto inside = [](const Vector2d& p) { return p.norm() < 10.0; };
        const std::size_t found = meeting_points(s, circle({0, 0}, 10), k_slack).size();
        EXPECT_EQ(found % 2 == 1, inside(start_point(s)) != inside(end_point(s))) << i;
    }
}

}  // namespace
}  // namespace sillwright::geometry
