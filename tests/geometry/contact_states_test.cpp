#include "geometry/contact_states.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "tests/support/swing_scenes.h"

namespace sillwright::geometry {
namespace {

using Eigen::Isometry3d;
using Eigen::Vector3d;
using tests::box_mesh;

DistanceTree tree_of(const Mesh& mesh) {
    return std::move(DistanceTree::build(mesh)).value();
}

Corners corners_of(const Mesh& mesh, const Triangle& t, const Isometry3d& place) {
    const auto at = [&](std::int32_t i) { return Vector3d(place * mesh.points[static_cast<std::size_t>(i)]); };
    return {at(t[0]), at(t[1]), at(t[2])};
}

/// Least distance of all pairs of triangles.
double by_all_pairs(const Mesh& fixed, const Mesh& moving, const Isometry3d& door) {
    double least = std::numeric_limits<double>::infinity();
    for (const Triangle& t : moving.triangles) {
        const Corners moved = corners_of(moving, t, door);
        for (const Triangle& s : fixed.triangles) {
            least = std::min(least, triangle_distance(corners_of(fixed, s, Isometry3d::Identity()), moved).squared_mm2);
        }
    }
    return std::sqrt(least);
}

/// Solid angle of a closed mesh seen from p, in full spheres: 1 inside, 0 outside.
/// Source: A. van Oosterom, J. Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125, eq. 8.
double spheres_seen(const Mesh& mesh, const Vector3d& p) {
    double sum = 0.0;
    for (const Triangle& t : mesh.triangles) {
        const Corners c = corners_of(mesh, t, Isometry3d(Eigen::Translation3d(-p)));
        const double a = c[0].norm();
        const double b = c[1].norm();
        const double d = c[2].norm();
        sum += 2.0 * std::atan2(c[0].dot(c[1].cross(c[2])),
                                a * b * d + c[0].dot(c[1]) * d + c[1].dot(c[2]) * a + c[2].dot(c[0]) * b);
    }
    return sum / (4.0 * std::numbers::pi);
}

bool holds_corner(const Mesh& body, const Mesh& parts, const Isometry3d& body_from_parts) {
    return std::any_of(parts.points.begin(), parts.points.end(),
                       [&](const Vector3d& p) { return spheres_seen(body, body_from_parts * p) > 0.5; });
}

const MotionQuestion k_swing{degrees(0.0), degrees(70.0)};

TEST(ContactStates, CoverTheRangeAndHoldAtEveryAngleTried) {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> uniform(-1.0, 1.0);
    int touching = 0;
    for (int trial = 0; trial < 40; ++trial) {
        SCOPED_TRACE(trial);
        HingeMotion motion;
        motion.axis_direction = Vector3d(0.3 * uniform(random), 0.3 * uniform(random), 1.0).normalized();
        motion.sag_at_once = degrees(uniform(random));
        motion.sag_growth = degrees(8.0 * uniform(random));
        // A box in the way of another, which it meets in mid-swing or over which it passes.
        const Vector3d middle(560.0, 560.0, 45.0 * uniform(random));
        const Mesh fixed = box_mesh(middle - Vector3d(60, 50, 20), middle + Vector3d(40, 70, 20));
        const Mesh moving = box_mesh({600.0, -30.0, -25.0}, {900.0, 10.0, 15.0});
        const DistanceTree a = tree_of(fixed);
        const DistanceTree b = tree_of(moving);
        const ContactStates states = contact_states(a, b, motion, k_swing, {});
        ASSERT_FALSE(states.intervals.empty());
        EXPECT_EQ(in_rad(states.intervals.front().from), in_rad(k_swing.from));
        EXPECT_EQ(in_rad(states.intervals.back().to), in_rad(k_swing.to));
        for (std::size_t i = 0; i < states.intervals.size(); ++i) {
            const AngleInterval& interval = states.intervals[i];
            if (i > 0) {
                EXPECT_EQ(in_rad(states.intervals[i - 1].to), in_rad(interval.from));
                EXPECT_NE(states.intervals[i - 1].state, interval.state);
            }
            for (int k = 0; k <= 40; ++k) {
                const double part = k < 2 ? k : 0.5 + 0.5 * uniform(random);
                const Isometry3d door = pose(motion, interval.from + part * (interval.to - interval.from));
                const double distance = by_all_pairs(fixed, moving, door);
                const bool held = holds_corner(fixed, moving, door) || holds_corner(moving, fixed, door.inverse());
                if (interval.state == AngleState::free) {
                    EXPECT_GT(distance, 0.0);
                    EXPECT_FALSE(held);
                } else if (interval.state == AngleState::touching) {
                    ++touching;
                    EXPECT_TRUE(distance < 1e-9 || held) << distance;
                } else {
                    EXPECT_LE(in_deg(interval.to - interval.from), 0.02);
                }
            }
        }
    }
    EXPECT_GT(touching, 200);  // The scene is of use.
}

TEST(ContactStates, ContactWithoutCrossingIsNotCalledTouching) {
    // Two boxes share a face at the one angle asked for: distance 0, nothing crosses, nothing is inside.
    const DistanceTree a = tree_of(box_mesh({0.0, 0.0, 0.0}, {10.0, 10.0, 10.0}));
    const DistanceTree b = tree_of(box_mesh({10.0, 2.0, 2.0}, {20.0, 8.0, 8.0}));
    const ContactStates states = contact_states(a, b, {}, {degrees(0.0), degrees(0.0)}, {});
    ASSERT_EQ(states.intervals.size(), 1U);
    EXPECT_EQ(states.intervals.front().state, AngleState::within_tolerance);
}

TEST(ContactStates, OneAngleInsideIsTouching) {
    const DistanceTree hall = tree_of(box_mesh({-50.0, -50.0, -50.0}, {50.0, 50.0, 50.0}));
    const DistanceTree crate = tree_of(box_mesh({10.0, -4.0, -4.0}, {20.0, 4.0, 4.0}));
    for (const double to : {0.0, 1.0}) {
        const ContactStates states = contact_states(hall, crate, {}, {degrees(0.0), degrees(to)}, {});
        ASSERT_EQ(states.intervals.size(), 1U);
        EXPECT_EQ(states.intervals.front().state, AngleState::touching);
        // The corners at x = 10 are 40 from the wall x = 50 and no other wall is nearer; a turn takes them no nearer.
        EXPECT_GE(states.depth_mm, 40.0 - 1e-9);
        EXPECT_LE(states.depth_mm, 40.1);
    }
}

TEST(ContactStates, GlidingContactIsBracketedAtBothEnds) {
    // A flat hem 0.5 mm into a low bump of the shelf: it glides through and crosses over a wide interval. The hem's
    // front edge y = 0 at angle 0 meets the bump's corner (700, 100) at atan(100 / 700) and leaves the corner
    // (600, 300) with its rear edge, 20 behind: asin(300 / |corner|) etc. only bound it, so brackets are what is asked.
    const DistanceTree shelf = tree_of(box_mesh({600.0, 100.0, -5.0}, {700.0, 300.0, 0.5}));
    const DistanceTree hem = tree_of(box_mesh({300.0, -20.0, 0.0}, {1000.0, 0.0, 100.0}));
    const ContactStates states = contact_states(shelf, hem, {}, k_swing, {});
    ASSERT_EQ(states.intervals.size(), 5U);
    EXPECT_EQ(states.intervals[2].state, AngleState::touching);
    for (const std::size_t i : {1U, 3U}) {
        EXPECT_EQ(states.intervals[i].state, AngleState::within_tolerance);
        EXPECT_LE(in_deg(states.intervals[i].to - states.intervals[i].from), 0.02);
    }
    const double meets = std::atan2(100.0, 700.0) * 180.0 / std::numbers::pi;
    EXPECT_LE(in_deg(states.intervals[0].to), meets);
    EXPECT_GE(in_deg(states.intervals[2].from), meets);
}

TEST(ContactStates, LyingOnAFlatShelfIsWithinToleranceThroughout) {
    // The hem is 5 mm above the shelf at every angle; lowered by that it lies on it, and nothing crosses.
    tests::SwingScene scene = tests::level_glide_scene(0.02);
    for (Vector3d& p : scene.moving.points) {
        p.z() -= 5.0;
    }
    const MotionQuestion question{degrees(0.0), degrees(70.0)};
    const ContactStates found = contact_states(tree_of(scene.fixed), tree_of(scene.moving), scene.motion, question, {});
    ASSERT_EQ(found.intervals.size(), 1U);
    EXPECT_EQ(found.intervals.front().state, AngleState::within_tolerance);
    EXPECT_EQ(found.intervals.front().from, question.from);
    EXPECT_EQ(found.intervals.front().to, question.to);
}

TEST(OneInsideOther, EitherWayRoundForClosedBodiesOnly) {
    const Mesh hall = box_mesh({-50.0, -50.0, -50.0}, {50.0, 50.0, 50.0});
    const Mesh crate = box_mesh({10.0, -4.0, -4.0}, {20.0, 4.0, 4.0});
    Mesh open = hall;
    open.triangles.pop_back();
    const Isometry3d shut = Isometry3d::Identity();
    EXPECT_TRUE(one_inside_other(tree_of(hall), tree_of(crate), shut));
    EXPECT_TRUE(one_inside_other(tree_of(crate), tree_of(hall), shut));
    EXPECT_FALSE(one_inside_other(tree_of(open), tree_of(crate), shut));
    EXPECT_FALSE(one_inside_other(tree_of(hall), tree_of(crate), Isometry3d(Eigen::Translation3d(200.0, 0.0, 0.0))));
}

TEST(ContactStates, CanBeStopped) {
    std::stop_source stop;
    stop.request_stop();
    const tests::SwingScene scene = tests::clear_scene(0.3);
    Mesh lowered = scene.moving;
    for (Vector3d& p : lowered.points) {
        p.z() -= 4.8;
    }
    const ContactStates states =
        contact_states(tree_of(scene.fixed), tree_of(lowered), scene.motion, k_swing, {stop.get_token(), {}});
    EXPECT_TRUE(states.stopped);
}

}  // namespace
}  // namespace sillwright::geometry
