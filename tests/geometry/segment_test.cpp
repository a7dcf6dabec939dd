#include "geometry/segment.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;
using std::numbers::pi;

constexpr double k_rounding = 1e-12;

Segment line(const Vector2d& from, const Vector2d& to) {
    return {LineSegment{from, to}, 3};
}

Segment arc(const Vector2d& centre, double radius, double start_degrees, double sweep_degrees) {
    return {ArcSegment{centre, radius, degrees(start_degrees), degrees(sweep_degrees)}, 4};
}

TEST(Segment, ALineRunsEvenlyFromEndToEnd) {
    const Segment s = line({1, 2}, {4, 6});
    EXPECT_EQ(start_point(s), Vector2d(1, 2));
    EXPECT_EQ(end_point(s), Vector2d(4, 6));
    EXPECT_LE((point_at(s, 0.5) - Vector2d{2.5, 4}).norm(), k_rounding);
    EXPECT_LE((direction_at(s, 0.3) - Vector2d{0.6, 0.8}).norm(), k_rounding);
    EXPECT_DOUBLE_EQ(in_mm(length(s)), 5.0);
}

TEST(Segment, AnArcTurnsTheWayOfItsSweep) {
    const Segment anticlockwise = arc({10, 0}, 5, 0, 90);
    EXPECT_LE((start_point(anticlockwise) - Vector2d{15, 0}).norm(), k_rounding);
    EXPECT_LE((end_point(anticlockwise) - Vector2d{10, 5}).norm(), k_rounding);
    EXPECT_LE((direction_at(anticlockwise, 0.0) - Vector2d{0, 1}).norm(), k_rounding);
    const Segment clockwise = arc({10, 0}, 5, 0, -90);
    EXPECT_LE((end_point(clockwise) - Vector2d{10, -5}).norm(), k_rounding);
    EXPECT_LE((direction_at(clockwise, 0.0) - Vector2d{0, -1}).norm(), k_rounding);
    EXPECT_NEAR(in_mm(length(clockwise)), 2.5 * pi, k_rounding);
}

TEST(Segment, DistanceToALineKnowsItsEnds) {
    const Segment s = line({0, 0}, {10, 0});
    EXPECT_DOUBLE_EQ(in_mm(distance_to(s, {4, -3})), 3.0);
    EXPECT_DOUBLE_EQ(in_mm(distance_to(s, {13, 4})), 5.0);
    EXPECT_DOUBLE_EQ(in_mm(distance_to(s, {-3, 4})), 5.0);
    EXPECT_DOUBLE_EQ(in_mm(distance_to(line({1, 1}, {1, 1}), {4, 5})), 5.0);
}

TEST(Segment, DistanceToAnArcKnowsItsEndsAndTheGapAcrossTheCut) {
    // Three quarters of a circle that passes 180 degrees, where the angle jumps.
    for (const Segment& s : {arc({0, 0}, 10, 45, 270), arc({0, 0}, 10, -45, -270)}) {
        EXPECT_NEAR(in_mm(distance_to(s, {-13, 0})), 3.0, k_rounding);
        EXPECT_NEAR(in_mm(distance_to(s, {0, -4})), 6.0, k_rounding);
        EXPECT_NEAR(in_mm(distance_to(s, {0, 0})), 10.0, k_rounding);
        const double half = 10.0 * std::sqrt(0.5);  // in the gap the nearest is an end
        EXPECT_NEAR(in_mm(distance_to(s, {half + 3, half - 4 + 0.0})), 5.0, k_rounding);
        EXPECT_NEAR(in_mm(distance_to(s, {half + 3, -half + 4})), 5.0, k_rounding);
    }
}

TEST(Segment, PartAndReverseKeepPointsAndNode) {
    for (const Segment& s : {line({1, 2}, {4, 6}), arc({10, 3}, 5, 170, 120), arc({10, 3}, 5, 170, -360)}) {
        const Segment part = part_of(s, 0.25, 0.75);
        const Segment back = reversed(s);
        for (const double f : {0.0, 0.3, 1.0}) {
            EXPECT_LE((point_at(part, f) - point_at(s, 0.25 + 0.5 * f)).norm(), k_rounding);
            EXPECT_LE((point_at(back, f) - point_at(s, 1.0 - f)).norm(), k_rounding);
            EXPECT_LE((direction_at(back, f) + direction_at(s, 1.0 - f)).norm(), k_rounding);
        }
        EXPECT_EQ(part.node, s.node);
        EXPECT_EQ(back.node, s.node);
        EXPECT_NEAR(nearest_fraction(s, point_at(s, 0.3)), 0.3, k_rounding);
    }
}

}  // namespace
}  // namespace sillwright::geometry
