#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <random>

#include "geometry/body_distance.h"
#include "tests/support/fcl/fcl_distance.h"
#include "tests/support/swing_scenes.h"

// The Flexible Collision Library (Debian's libfcl 0.7), OBBRSS trees in double precision: another tree, another
// test of boxes, another distance of triangles than ours.

namespace sillwright::geometry {
namespace {

using Eigen::Isometry3d;
using Eigen::Vector3d;

constexpr double k_agree_mm = 1e-7;

DistanceTree tree_of(const Mesh& mesh) {
    return std::move(DistanceTree::build(mesh)).value();
}

/// A closed body: a ring of random radii carried along a waving line.
Mesh waving_body(std::mt19937& random, double size) {
    std::uniform_real_distribution<double> uniform(0.4, 1.0);
    std::vector<Eigen::Vector2d> ring;
    for (int i = 0; i < 24; ++i) {
        const double a = 2.0 * std::numbers::pi * i / 24.0;
        ring.emplace_back(size * uniform(random) * Eigen::Vector2d(std::cos(a), std::sin(a)));
    }
    const double wave = 0.3 * size * uniform(random);
    return tests::swept(ring, -2.0 * size, 2.0 * size, 20, [=](double x) {
        return Eigen::Vector2d(wave * std::sin(3.0 * x / size), wave * std::cos(2.0 * x / size));
    });
}

TEST(BodyDistanceReference, RandomPosesAgreeWithFcl) {
    std::mt19937 random(20);
    std::uniform_real_distribution<double> uniform(-1.0, 1.0);
    const auto any = [&] { return Vector3d(uniform(random), uniform(random), uniform(random)); };
    int apart = 0;
    int touching = 0;
    for (int i = 0; i < 300; ++i) {
        const Mesh first = waving_body(random, 100.0);
        Mesh second = i % 3 == 0 ? tests::box_mesh({-30, -40, -20}, {30, 40, 20}) : waving_body(random, 60.0);
        Isometry3d place = Isometry3d::Identity();
        place.linear() = Eigen::AngleAxisd(3.0 * uniform(random), any().normalized()).toRotationMatrix();
        place.translation() = (150.0 + 200.0 * std::abs(uniform(random))) * any().normalized();
        for (Vector3d& p : second.points) {
            p = place * p;
        }
        const BodyDistance ours = body_distance(tree_of(first), tree_of(second));
        const tests::FclNearest judge =
            tests::fcl_distance(tests::FclBody(first), tests::FclBody(second), Isometry3d::Identity());
        if (judge.distance_mm > k_agree_mm && !ours.touches) {
            ++apart;
            EXPECT_NEAR(in_mm(ours.least), judge.distance_mm, k_agree_mm) << "pose " << i;
            EXPECT_LE(in_mm(ours.proven), judge.distance_mm + k_agree_mm);
            EXPECT_NEAR((ours.on_first_mm - ours.on_second_mm).norm(), in_mm(ours.least), k_agree_mm);
        } else {
            ++touching;
            EXPECT_TRUE(ours.touches) << "pose " << i << ": the judge says " << judge.distance_mm;
        }
    }
    EXPECT_GT(apart, 150);
    EXPECT_GT(touching, 5);
}

}  // namespace
}  // namespace sillwright::geometry
