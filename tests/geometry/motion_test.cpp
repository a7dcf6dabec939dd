#include "geometry/motion.h"

#include <gtest/gtest.h>

#include <cmath>

namespace sillwright::geometry {
namespace {

using Eigen::Vector3d;

/// Top of the axis leaning inboard (right-hand door), by `lean`.
HingeMotion leaning(Angle lean, double outboard_sign) {
    HingeMotion motion;
    motion.axis_direction = {0.0, outboard_sign * std::sin(in_rad(lean)), std::cos(in_rad(lean))};
    return motion;
}

// Worked by hand from Rodrigues' formula: a point 1000 mm behind the axis foot, leaning 3 degrees, open 65 degrees,
// rises 1000 sin 65 sin 3 = 47.43 mm; x = 1000 cos 65 = 422.62, y = 1000 sin 65 cos 3 = 905.07.
TEST(Motion, DoorRisesWhereTheAxisLeansInboardAtTheTop) {
    const Vector3d p = pose(leaning(degrees(3.0), -1.0), degrees(65.0)) * Vector3d(1000.0, 0.0, 0.0);
    EXPECT_NEAR(p.x(), 422.62, 0.005);
    EXPECT_NEAR(p.y(), 905.07, 0.005);
    EXPECT_NEAR(p.z(), 47.43, 0.005);
}

TEST(Motion, DoorDropsWhereTheAxisLeansOutboardAtTheTop) {
    EXPECT_NEAR((pose(leaning(degrees(3.0), 1.0), degrees(65.0)) * Vector3d(1000.0, 0.0, 0.0)).z(), -47.43, 0.005);
}

TEST(Motion, SagIsATurnAboutTheTurnedTransverseLineAfterTheSwing) {
    HingeMotion motion = leaning(degrees(2.0), 1.0);
    motion.axis_point_mm = {100.0, -20.0, 400.0};
    motion.sag_at_once = degrees(1.0);
    motion.sag_growth = degrees(4.0);
    motion.opening = degrees(70.0);
    const Angle angle = degrees(40.0);
    // As the header states it: R(R(u, a) y, s) R(u, a).
    const Eigen::Matrix3d swing = Eigen::AngleAxisd(in_rad(angle), motion.axis_direction).toRotationMatrix();
    const Vector3d across = swing * motion.sag_direction;
    const double sag = in_rad(degrees(1.0 + 4.0 * 40.0 / 70.0));
    const Vector3d p(900.0, 10.0, 120.0);
    const Vector3d expected =
        motion.axis_point_mm + Eigen::AngleAxisd(sag, across) * (swing * (p - motion.axis_point_mm));
    EXPECT_LT((pose(motion, angle) * p - expected).norm(), 1e-9);
}

TEST(Motion, PositiveSagLowersTheRearEdgeOnEitherSide) {
    HingeMotion right;
    right.sag_at_once = degrees(0.1);
    const HingeMotion left = mirrored_y(right);
    const double drop = 1000.0 * std::sin(in_rad(degrees(0.1)));
    EXPECT_NEAR((pose(right, Angle{}) * Vector3d(1000.0, 50.0, 0.0)).z(), -drop, 1e-9);
    EXPECT_NEAR((pose(left, Angle{}) * Vector3d(1000.0, -50.0, 0.0)).z(), -drop, 1e-9);
}

TEST(Motion, MirroredMotionMovesMirroredPoints) {
    HingeMotion motion = leaning(degrees(2.5), 1.0);
    motion.axis_point_mm = {10.0, 700.0, 350.0};
    motion.sag_at_once = degrees(0.3);
    motion.sag_growth = degrees(0.4);
    const Vector3d p(800.0, 720.0, 200.0);
    const Vector3d moved = pose(motion, degrees(33.0)) * p;
    const Vector3d image = pose(mirrored_y(motion), degrees(33.0)) * Vector3d(p.x(), -p.y(), p.z());
    EXPECT_LT((image - Vector3d(moved.x(), -moved.y(), moved.z())).norm(), 1e-9);
}

}  // namespace
}  // namespace sillwright::geometry
