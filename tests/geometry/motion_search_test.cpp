#include "geometry/motion_search.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "tests/support/swing_scenes.h"

namespace sillwright::geometry {
namespace {

using Eigen::Vector3d;
using tests::box_mesh;
using tests::edge_mesh;
using tests::point_mesh;
using Ending = MotionSearch::Ending;
using Pair = MotionSearch::Pair;

DistanceTree tree_of(const Mesh& mesh) {
    return std::move(DistanceTree::build(mesh)).value();
}

constexpr double k_quarter = std::numbers::pi / 2.0;

/// A point at radius 100 turns about z and comes nearest to (0, 130, 0) at a quarter turn: 30 off.
struct PointAndPoint {
    DistanceTree fixed = tree_of(point_mesh({0.0, 130.0, 0.0}));
    DistanceTree moving = tree_of(point_mesh({100.0, 0.0, 0.0}));
    MotionSearch search{fixed, moving, HingeMotion{}, {}};
};

TEST(MotionSearch, MinimiseKeepsItsPromiseOfTheSlack) {
    PointAndPoint scene;
    for (const double slack : {1.0, 1e-3, 1e-6}) {
        Pair best;
        const MotionSearch::Minimum found = scene.search.minimise(0.0, 2.0, {slack}, best);
        EXPECT_EQ(found.ending, Ending::done);
        EXPECT_GE(best.distance, 30.0);
        EXPECT_LE(best.distance - found.lower, slack);
        EXPECT_LE(found.lower, 30.0);
    }
}

TEST(MotionSearch, MinimiseStopsAtContact) {
    const DistanceTree fixed = tree_of(box_mesh({-10.0, 90.0, -10.0}, {10.0, 110.0, 10.0}));
    const DistanceTree moving = tree_of(edge_mesh({50.0, 0.0, 0.0}, {150.0, 0.0, 0.0}));
    MotionSearch search(fixed, moving, HingeMotion{}, {});
    Pair best;
    EXPECT_EQ(search.minimise(0.0, 2.0, {1e-3}, best).ending, Ending::contact);
    EXPECT_EQ(best.distance, 0.0);
}

TEST(MotionSearch, ProveApartProvesFindsOrGivesUp) {
    PointAndPoint scene;
    Pair contact;
    EXPECT_EQ(scene.search.prove_apart(0.0, 2.0, 29.999, 100000, contact), Ending::done);
    EXPECT_EQ(scene.search.prove_apart(0.0, 2.0, 30.001, 100000, contact), Ending::given_up);
    EXPECT_EQ(scene.search.prove_apart(0.0, 1.0, 30.001, 100000, contact), Ending::done);
    EXPECT_EQ(scene.search.prove_apart(0.0, 2.0, 29.999, 1, contact), Ending::given_up);
    const DistanceTree fixed = tree_of(box_mesh({-10.0, 90.0, -10.0}, {10.0, 110.0, 10.0}));
    const DistanceTree moving = tree_of(edge_mesh({50.0, 0.0, 0.0}, {150.0, 0.0, 0.0}));
    MotionSearch meets(fixed, moving, HingeMotion{}, {});
    EXPECT_EQ(meets.prove_apart(0.0, 2.0, 1e-9, 1000000, contact), Ending::contact);
    EXPECT_EQ(contact.distance, 0.0);
}

TEST(MotionSearch, CrossingsAreThePairsThatCross) {
    // A needle along y pierces the box's two end faces, each at the middle of one of its two triangles or on their
    // common edge: off the diagonal it is one triangle a face, two in all.
    const DistanceTree fixed = tree_of(box_mesh({-10.0, -20.0, -10.0}, {10.0, 20.0, 10.0}));
    const DistanceTree moving = tree_of(edge_mesh({3.0, -50.0, 1.0}, {3.0, 50.0, 1.0}));
    MotionSearch search(fixed, moving, HingeMotion{}, {});
    EXPECT_EQ(search.crossings(0.0, 100).size(), 2U);
    EXPECT_EQ(search.crossings(0.0, 1).size(), 1U);
    // A quarter of a turn on, it lies along -x from (-1 ..): through the side faces, again two.
    EXPECT_EQ(search.crossings(k_quarter, 100).size(), 2U);
    const DistanceTree beside = tree_of(edge_mesh({30.0, -50.0, 1.0}, {30.0, 50.0, 1.0}));
    EXPECT_TRUE(MotionSearch(fixed, beside, HingeMotion{}, {}).crossings(0.0, 100).empty());
}

TEST(MotionSearch, PolishComesToTheLeastOfThePair) {
    PointAndPoint scene;
    Pair best = scene.search.pair_at(0, 0, k_quarter - 0.015);
    EXPECT_GT(best.distance, 30.0);
    scene.search.polish(0.0, 3.0, best);
    EXPECT_NEAR(best.distance, 30.0, 1e-9);
    EXPECT_NEAR(best.angle, k_quarter, 1e-5);
    // Not beyond the end of the interval: |(100 cos, 100 sin) - (0, 130)| at 1.5 rad.
    Pair early = scene.search.pair_at(0, 0, 1.49);
    scene.search.polish(0.0, 1.5, early);
    EXPECT_NEAR(early.distance, std::sqrt(100.0 * 100.0 + 130.0 * 130.0 - 2.0 * 13000.0 * std::sin(1.5)), 1e-9);
    EXPECT_LE(early.angle, 1.5);
}

TEST(MotionSearch, SpeedTakesInTheSag) {
    HingeMotion motion;
    motion.sag_growth = degrees(-7.0);
    motion.opening = degrees(70.0);
    const DistanceTree tree = tree_of(point_mesh({1.0, 0.0, 0.0}));
    EXPECT_NEAR(MotionSearch(tree, tree, motion, {}).greatest_speed(200.0), 220.0, 1e-9);  // (1 + 0.1) 200
}

}  // namespace
}  // namespace sillwright::geometry
