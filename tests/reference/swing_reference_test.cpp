#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <random>

#include "geometry/motion_distance.h"
#include "tests/support/fcl/fcl_distance.h"
#include "tests/support/swing_scenes.h"

// The Flexible Collision Library (Debian's libfcl 0.7), OBBRSS trees in double precision: another tree, another
// test of boxes, another distance of triangles than ours.

namespace sillwright::geometry {
namespace {

using Eigen::Isometry3d;
using Eigen::Vector3d;
using tests::SwingScene;

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

/// Two bodies that pass each other, and an axis in any direction with up to 10 degrees of sag.
SwingScene waving_scene(unsigned seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> uniform(-1.0, 1.0);
    SwingScene scene;
    scene.fixed = waving_body(random, 100.0);
    scene.moving = waving_body(random, 80.0);
    const auto any = [&] { return Vector3d(uniform(random), uniform(random), uniform(random)); };
    scene.motion.axis_point_mm = 600.0 * any();
    scene.motion.axis_direction = (any() + Vector3d(0.0, 0.0, 1.5)).normalized();
    scene.motion.sag_direction = scene.motion.axis_direction.unitOrthogonal();
    scene.motion.sag_at_once = degrees(2.0 * uniform(random));
    scene.motion.sag_growth = degrees(10.0 * uniform(random));
    scene.motion.opening = degrees(70.0);
    const Isometry3d at_middle = pose(scene.motion, degrees(30.0));
    const Vector3d by = at_middle.inverse() * Vector3d(420.0 * any().normalized());
    for (Vector3d& p : scene.moving.points) {
        p += by;
    }
    return scene;
}

std::vector<SwingScene> scenes() {
    std::vector<SwingScene> all{tests::clear_scene(0.1), tests::glide_scene(0.05), tests::level_glide_scene(0.004)};
    for (std::size_t i = 0; i < 2; ++i) {  // The other side of the car, with sag.
        SwingScene other = all[i];
        other.fixed = mirrored_y(other.fixed);
        other.moving = mirrored_y(other.moving);
        other.motion.sag_at_once = degrees(-0.05);
        other.motion = mirrored_y(other.motion);
        all.push_back(other);
    }
    for (unsigned seed = 1; seed <= 7; ++seed) {
        all.push_back(waving_scene(seed));
    }
    return all;
}

TEST(SwingReference, DistanceAtAPoseAgreesWithFcl) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> angle(-3.0, 70.0);
    int separated = 0;
    for (const SwingScene& scene : scenes()) {
        const DistanceTree fixed = tree_of(scene.fixed);
        const DistanceTree moving = tree_of(scene.moving);
        const tests::FclBody fcl_fixed(scene.fixed);
        const tests::FclBody fcl_moving(scene.moving);
        for (int i = 0; i < 25; ++i) {
            const Angle at = degrees(angle(random));
            SCOPED_TRACE(in_deg(at));
            const PoseDistance ours = distance_at(fixed, moving, scene.motion, at);
            const auto theirs = tests::fcl_distance(fcl_fixed, fcl_moving, pose(scene.motion, at));
            if (!(theirs.distance_mm > 0.0)) {
                continue;
            }
            ++separated;
            EXPECT_NEAR(in_mm(ours.distance), theirs.distance_mm, k_agree_mm);
            EXPECT_NEAR((ours.on_moving_mm - ours.on_fixed_mm).norm(), in_mm(ours.distance), k_agree_mm);
        }
    }
    EXPECT_GE(separated, 200);
}

TEST(SwingReference, ProvenIsBelowAndLeastIsMetByFcl) {
    for (const SwingScene& scene : scenes()) {
        const DistanceTree fixed = tree_of(scene.fixed);
        const DistanceTree moving = tree_of(scene.moving);
        const tests::FclBody fcl_fixed(scene.fixed);
        const tests::FclBody fcl_moving(scene.moving);
        const MotionQuestion question{degrees(-3.0), degrees(70.0)};
        const auto found = least_distance(fixed, moving, scene.motion, question);
        ASSERT_TRUE(found);
        if (found.value().touches) {
            // Touching angles are touching for the library too, free ones are not.
            for (const AngleInterval& interval : found.value().states) {
                for (int i = 0; i <= 10; ++i) {
                    const Angle at = interval.from + 0.1 * i * (interval.to - interval.from);
                    const double theirs =
                        tests::fcl_distance(fcl_fixed, fcl_moving, pose(scene.motion, at)).distance_mm;
                    if (interval.state == AngleState::free) {
                        EXPECT_GT(theirs, 0.0);
                    } else if (interval.state == AngleState::touching && i > 0 && i < 10) {
                        EXPECT_LE(theirs, k_agree_mm);
                    }
                }
            }
            continue;
        }
        double sampled = std::numeric_limits<double>::max();
        const int poses = scene.fixed.triangles.size() > 2000 ? 3000 : 400;
        for (int i = 0; i <= poses; ++i) {
            const Angle at = question.from + (question.to - question.from) * (static_cast<double>(i) / poses);
            sampled = std::min(sampled,
                               tests::fcl_distance(fcl_fixed, fcl_moving, pose(scene.motion, at), sampled).distance_mm);
        }
        EXPECT_LE(in_mm(found.value().proven), sampled + k_agree_mm);
        EXPECT_LE(in_mm(found.value().least), sampled + in_mm(question.tolerance));
        const auto there = tests::fcl_distance(fcl_fixed, fcl_moving, pose(scene.motion, found.value().at));
        EXPECT_NEAR(there.distance_mm, in_mm(found.value().least), k_agree_mm);
    }
}

}  // namespace
}  // namespace sillwright::geometry
