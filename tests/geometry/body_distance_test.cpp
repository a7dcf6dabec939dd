#include "geometry/body_distance.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>

#include "tests/geometry/mesh_shapes.h"
#include "tests/support/swing_scenes.h"

// Expected numbers: distances of boxes, balls, lines and points by hand.

namespace sillwright::geometry {
namespace {

using Eigen::Vector3d;

constexpr double k_rounding = 1e-9;

DistanceTree tree_of(const Mesh& mesh) {
    return std::move(DistanceTree::build(mesh)).value();
}

Mesh moved(Mesh mesh, const Vector3d& by) {
    for (Vector3d& p : mesh.points) {
        p += by;
    }
    return mesh;
}

BodyDistance distance(const Mesh& first, const Mesh& second, double tolerance_mm = 0.0) {
    return body_distance(tree_of(first), tree_of(second), {millimetres(tolerance_mm), 0.0});
}

TEST(BodyDistance, OfTwoBoxesCornerToCornerAndFaceToFace) {
    const Mesh one = box({10, 20, 30});
    const BodyDistance corner = distance(one, moved(box({5, 5, 5}), {13, 24, 42}));
    EXPECT_FALSE(corner.touches);
    EXPECT_NEAR(in_mm(corner.least), 13.0, k_rounding);  // 3, 4, 12
    EXPECT_NEAR(in_mm(corner.proven), 13.0, k_rounding);
    EXPECT_LE(corner.proven, corner.least);
    EXPECT_NEAR((corner.on_first_mm - Vector3d(10, 20, 30)).norm(), 0.0, k_rounding);
    EXPECT_NEAR((corner.on_second_mm - Vector3d(13, 24, 42)).norm(), 0.0, k_rounding);
    EXPECT_NEAR(in_mm(distance(one, moved(box({5, 5, 5}), {3, 8, 32.5})).least), 2.5, k_rounding);
}

TEST(BodyDistance, OfTwoBallsWithinTheirFacets) {
    const Mesh one = ball({0, 0, 0}, 50, 60, 120);
    const Mesh other = ball({60, 80, 0}, 30, 60, 120);
    const BodyDistance found = distance(one, other);
    // Corners lie on the balls, facets inside them by no more than r (1 - cos(half a diagonal's angle)).
    EXPECT_GE(in_mm(found.least), 20.0 - k_rounding);
    EXPECT_LE(in_mm(found.least), 20.0 + 80.0 * (1.0 - std::cos(std::numbers::pi / 60.0 / std::sqrt(2.0))));
}

TEST(BodyDistance, OfALineAndAPointWithoutArea) {
    const BodyDistance line = distance(tests::edge_mesh({0, 0, 0}, {100, 0, 0}), moved(box({5, 5, 5}), {40, 3, 4}));
    EXPECT_NEAR(in_mm(line.least), 5.0, k_rounding);
    EXPECT_FALSE(line.touches);
    const BodyDistance within = distance(tests::edge_mesh({1, 1, 1}, {2, 3, 2}), box({5, 5, 5}));
    EXPECT_TRUE(within.touches);
    EXPECT_NEAR(in_mm(within.depth), 2.0, k_rounding);  // Its end at (2, 3, 2).
}

TEST(BodyDistance, OneBodyInsideTheOtherIsOverlap) {
    for (const bool swapped : {false, true}) {
        const Mesh outer = box({100, 100, 100});
        const Mesh inner = moved(box({10, 10, 10}), {30, 45, 45});
        const BodyDistance found = swapped ? distance(inner, outer) : distance(outer, inner);
        EXPECT_TRUE(found.touches);
        EXPECT_EQ(found.least, Length{});
        EXPECT_EQ(found.proven, Length{});
        EXPECT_NEAR(in_mm(found.depth), 40.0, k_rounding);  // The corners at along 40.
        EXPECT_NEAR((found.on_first_mm - found.on_second_mm).norm(), 40.0, k_rounding);
    }
}

TEST(BodyDistance, BodiesThatCrossGiveADepthThatIsReached) {
    const BodyDistance found = distance(box({100, 100, 100}), moved(box({50, 20, 20}), {93, 40, 40}));
    EXPECT_TRUE(found.touches);
    EXPECT_NEAR(in_mm(found.depth), 7.0, k_rounding);
    EXPECT_NEAR(found.on_second_mm.x(), 93.0, k_rounding);
    EXPECT_NEAR(found.on_first_mm.x(), 100.0, k_rounding);
    // A bar right through has no corner inside: it touches, and no depth is said.
    const BodyDistance through = distance(box({10, 10, 10}), moved(box({50, 4, 4}), {-20, 3, 3}));
    EXPECT_TRUE(through.touches);
    EXPECT_EQ(through.depth, Length{});
}

TEST(BodyDistance, FacesThatLieOnEachOtherTouch) {
    EXPECT_TRUE(distance(box({10, 10, 10}), moved(box({10, 10, 10}), {10, 2, 2})).touches);
}

TEST(BodyDistance, WithAToleranceTheBoundIsNearAndNeverAbove) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> uniform(-1.0, 1.0);
    for (int i = 0; i < 40; ++i) {
        const Mesh one = ball({0, 0, 0}, 40, 20, 30);
        const Vector3d way = Vector3d(uniform(random), uniform(random), uniform(random)).normalized();
        const Mesh other = ball(way * (75.0 + 20.0 * std::abs(uniform(random))), 30, 24, 18);
        const BodyDistance exact = distance(one, other);
        const BodyDistance loose = distance(one, other, 0.5);
        const BodyDistance of_part = body_distance(tree_of(one), tree_of(other), {Length{}, 0.1});
        EXPECT_LE(of_part.proven, exact.least);
        EXPECT_LE(in_mm(of_part.least - of_part.proven), 0.1 * in_mm(of_part.least) + k_rounding);
        EXPECT_GE(loose.least, exact.least);
        EXPECT_LE(loose.proven, exact.least);
        EXPECT_LE(in_mm(loose.least - loose.proven), 0.5 + k_rounding);
    }
}

}  // namespace
}  // namespace sillwright::geometry
