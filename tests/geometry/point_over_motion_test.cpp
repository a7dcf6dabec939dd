#include "geometry/point_over_motion.h"

#include <gtest/gtest.h>

#include <cmath>

#include "geometry/motion_distance.h"
#include "tests/support/swing_scenes.h"

namespace sillwright::geometry {
namespace {

using Eigen::Vector3d;

/// A box that turns about the upright axis through its corner at the origin, over a quarter turn.
DistanceTree box() {
    return DistanceTree::build(tests::box_mesh({0, 0, 0}, {100, 20, 40})).value();
}

HingeMotion upright() {
    HingeMotion motion;
    motion.opening = degrees(90);
    return motion;
}

TEST(PointOverMotion, IsTheClosedFormBelowAndBesideTheSweep) {
    const DistanceTree tree = box();
    PointOverMotion points(tree, upright(), Angle{}, degrees(90));
    const Length tolerance = millimetres(1e-3);
    // Below the floor that the box sweeps: straight up. From (0, 0) outward the box covers a quarter disc.
    for (const double depth : {3.0, 0.5, 40.0}) {
        const double proven = in_mm(points.proven({50, 50, -depth}, tolerance));
        EXPECT_LE(proven, depth);
        EXPECT_GE(proven, depth - 1e-3);
    }
    // Outside of the arc of the furthest corner, at its height: the radius less that of the corner.
    const double corner = std::hypot(100.0, 20.0);
    const Vector3d out = (corner + 7.0) * Vector3d(std::cos(0.8), std::sin(0.8), 0.0) + Vector3d(0, 0, 20);
    const double proven = in_mm(points.proven(out, tolerance));
    EXPECT_LE(proven, 7.0);
    EXPECT_GE(proven, 7.0 - 1e-3);
}

TEST(PointOverMotion, APartOfTheDistanceMayBeLeft) {
    const DistanceTree tree = box();
    PointOverMotion points(tree, upright(), Angle{}, degrees(90));
    const double proven = in_mm(points.proven({50, 50, -30}, millimetres(1e-3), 0.2));
    EXPECT_LE(proven, 30.0);
    EXPECT_GE(proven, 0.8 * 30.0 - 1e-9);
}

TEST(PointOverMotion, DoesNotDependOnThePointsBefore) {
    const DistanceTree tree = box();
    PointOverMotion points(tree, upright(), Angle{}, degrees(90));
    const Length tolerance = millimetres(0.01);
    for (int i = 0; i < 50; ++i) {
        const Vector3d p(150.0 * std::cos(0.3 * i), 150.0 * std::sin(0.3 * i), 60.0 * std::sin(0.7 * i));
        const DistanceTree point = DistanceTree::build(tests::point_mesh(p)).value();
        const auto whole = least_distance(point, tree, upright(), {Angle{}, degrees(90)});
        ASSERT_TRUE(whole);
        const Length proven = points.proven(p, tolerance);
        EXPECT_LE(proven, whole.value().least) << i;
        EXPECT_GE(proven, whole.value().proven - tolerance) << i;
    }
}

TEST(PointOverMotion, IsZeroWhereTheBodyPassesThroughThePoint) {
    const DistanceTree tree = box();
    PointOverMotion points(tree, upright(), Angle{}, degrees(90));
    EXPECT_EQ(points.proven({40, 40, 20}, millimetres(0.01)), Length{});
    EXPECT_TRUE(points.inside_at_first({50, 10, 20}));
    EXPECT_FALSE(points.inside_at_first({40, 40, 20}));
}

}  // namespace
}  // namespace sillwright::geometry
