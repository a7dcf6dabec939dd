#include "geometry/triangle_distance.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>

namespace sillwright::geometry {
namespace {

using Eigen::Vector3d;

const Corners k_flat{Vector3d{0, 0, 0}, Vector3d{4, 0, 0}, Vector3d{0, 4, 0}};

double distance(const Corners& a, const Corners& b) {
    return std::sqrt(triangle_distance(a, b).squared_mm2);
}

TEST(TriangleDistance, CornerAboveTheFace) {
    const Corners above{Vector3d{1, 1, 2}, Vector3d{1, 1, 5}, Vector3d{2, 1, 5}};
    const ClosestPoints nearest = triangle_distance(k_flat, above);
    EXPECT_DOUBLE_EQ(std::sqrt(nearest.squared_mm2), 2.0);
    EXPECT_EQ(nearest.on_first, Vector3d(1, 1, 0));
    EXPECT_EQ(nearest.on_second, Vector3d(1, 1, 2));
}

TEST(TriangleDistance, EdgeAcrossEdge) {
    // Edge y = 0 of the flat one, and an edge along y 3 below it beyond x = 4... crossed at x = 2, one further out.
    const Corners across{Vector3d{2, -1, -3}, Vector3d{2, 1, -3}, Vector3d{2, 0, -9}};
    EXPECT_DOUBLE_EQ(distance(k_flat, across), 3.0);
}

TEST(SegmentDistance, NearlyParallelEdgesThatCrossMeetAtTheirMiddles) {
    // Two metres long, crossing at the origin by symmetry, 5e-8 radians apart.
    const double rise = 5e-5;
    const ClosestPoints nearest = segment_distance({-1000, 0, 0}, {1000, 0, 0}, {-1000, -rise, 0}, {1000, rise, 0});
    EXPECT_NEAR(std::sqrt(nearest.squared_mm2), 0.0, 1e-12);
    EXPECT_NEAR(nearest.on_first.x(), 0.0, 1e-6);
}

TEST(TriangleDistance, CornerToCorner) {
    const Corners beyond{Vector3d{7, 0, 4}, Vector3d{9, 0, 4}, Vector3d{9, 1, 6}};
    EXPECT_DOUBLE_EQ(distance(k_flat, beyond), 5.0);  // 3, 4, 5.
}

TEST(TriangleDistance, CrossingAndTouchingAreZero) {
    const Corners through{Vector3d{1, 1, -1}, Vector3d{1, 1, 1}, Vector3d{1.5, 1, 1}};
    const Corners touching{Vector3d{1, 1, 0}, Vector3d{1, 1, 1}, Vector3d{1.5, 1, 1}};
    EXPECT_EQ(distance(k_flat, through), 0.0);
    EXPECT_EQ(distance(k_flat, touching), 0.0);
    // A small triangle pierced by a large one, none of its own edges piercing.
    const Corners large{Vector3d{-50, 1, -50}, Vector3d{50, 1, -50}, Vector3d{0, 1, 90}};
    EXPECT_EQ(distance(k_flat, large), 0.0);
}

TEST(TriangleDistance, PointsAndEdgesAreTriangles) {
    const Corners point{Vector3d{1, 1, 7}, Vector3d{1, 1, 7}, Vector3d{1, 1, 7}};
    const Corners edge{Vector3d{-5, 1, 3}, Vector3d{9, 1, 3}, Vector3d{9, 1, 3}};
    EXPECT_DOUBLE_EQ(distance(k_flat, point), 7.0);
    EXPECT_DOUBLE_EQ(distance(point, edge), 4.0);
    EXPECT_DOUBLE_EQ(distance(k_flat, edge), 3.0);
}

TEST(TriangleDistance, AgreesWithALatticeOfPointsAndIsSymmetric) {
    std::mt19937 random(20240501);
    std::uniform_real_distribution<double> uniform(-10.0, 10.0);
    const auto corners = [&] {
        Corners t;
        for (Vector3d& p : t) {
            p = {uniform(random), uniform(random), uniform(random)};
        }
        return t;
    };
    for (int trial = 0; trial < 60; ++trial) {
        const Corners a = corners();
        const Corners b = corners();
        const double found = distance(a, b);
        EXPECT_NEAR(found, distance(b, a), 1e-12);
        // Brute force on barycentric lattices: never below, and near above by the lattice's width.
        constexpr int n = 24;
        double least = 1e9;
        for (int i = 0; i <= n; ++i) {
            for (int j = 0; i + j <= n; ++j) {
                const Vector3d p = a[0] + (a[1] - a[0]) * i / n + (a[2] - a[0]) * j / n;
                least = std::min(least, (nearest_on_triangle(p, b) - p).norm());
            }
        }
        EXPECT_LE(found, least + 1e-12);
        EXPECT_GE(found, least - 40.0 / n);
    }
}

TEST(TriangleDistance, PiercingTellsTheSides) {
    EXPECT_TRUE(piercing({1, 1, -1}, {1, 1, 1}, k_flat).pierces());
    EXPECT_TRUE(piercing({1, 1, 1}, {1, 1, -1}, k_flat).pierces());
    EXPECT_FALSE(piercing({3, 3, -1}, {3, 3, 1}, k_flat).pierces());
    EXPECT_FALSE(piercing({1, 1, 1}, {1, 1, 2}, k_flat).pierces());
}

}  // namespace
}  // namespace sillwright::geometry
