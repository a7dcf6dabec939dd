#include "core/swing/axis_sd.h"

#include <gtest/gtest.h>

#include <cmath>

namespace sillwright::core {
namespace {

using Eigen::Vector3d;
using geometry::degrees;
using geometry::in_mm;

constexpr double k_sd_mm = 0.5;

/// Partial derivatives are closed forms or central differences of lengths of some 1000 mm.
constexpr double k_rounding_mm = 1e-5;

/// Pins 400 mm apart on an upright axis, as unsure every way; `together`: as if they were one.
DoorModel door_on_pins(bool together) {
    survey::HingeAxis axis;
    axis.upper_mm = {0, 0, 400};
    axis.covariance_mm2.setIdentity();
    if (together) {
        axis.covariance_mm2.topRightCorner<3, 3>().setIdentity();
        axis.covariance_mm2.bottomLeftCorner<3, 3>().setIdentity();
    }
    axis.covariance_mm2 *= k_sd_mm * k_sd_mm;
    DoorModel door;
    door.axis = axis;
    return door;
}

BodyModel body_of(std::vector<Vector3d> points_mm) {
    BodyModel body;
    body.mesh.points = std::move(points_mm);
    return body;
}

double sd_mm(const DoorModel& door, const std::vector<Vector3d>& points_mm, double to_deg) {
    return in_mm(*axis_sd(door, body_of(points_mm), {}, degrees(to_deg)));
}

TEST(AxisSd, OfAnAxisThatIsShifted) {
    // An axis shifted by d takes every point to a place that is (1 - R) d off: 2 sin(half the angle) of it.
    const DoorModel door = door_on_pins(true);
    EXPECT_NEAR(sd_mm(door, {{1000, 0, -200}}, 60), k_sd_mm, k_rounding_mm);
    EXPECT_NEAR(sd_mm(door, {{1000, 0, -200}}, 90), k_sd_mm * std::sqrt(2.0), k_rounding_mm);
}

TEST(AxisSd, IsNothingWhereTheDoorIsShut) {
    EXPECT_NEAR(sd_mm(door_on_pins(false), {{1000, 0, -200}}, 0), 0.0, k_rounding_mm);
}

TEST(AxisSd, OfAnAxisThatLeans) {
    // Halfway between the pins the axis is known to sd / sqrt 2, and it leans by sd sqrt 2 / 400 either way. Opened by
    // half a turn a point at that height, r rearward, is off by twice the shift level, and by twice the lean times r
    // up or down.
    const double lean = k_sd_mm * std::sqrt(2.0) / 400.0;
    EXPECT_NEAR(sd_mm(door_on_pins(false), {{1000, 0, 200}}, 180), 2.0 * lean * 1000.0, k_rounding_mm);
}

TEST(AxisSd, GrowsWithTheBody) {
    const DoorModel door = door_on_pins(false);
    const double small = sd_mm(door, {{500, 0, 0}, {600, 10, 20}}, 70);
    const double large = sd_mm(door, {{500, 0, 0}, {600, 10, 20}, {1100, 0, -300}}, 70);
    EXPECT_GT(large, small);
    EXPECT_GE(large, sd_mm(door, {{1100, 0, -300}}, 70) - k_rounding_mm);
}

TEST(AxisSd, IsNotSaidOfTypedPins) {
    EXPECT_FALSE(axis_sd(DoorModel{}, body_of({{1000, 0, 0}}), {}, degrees(60)));
}

}  // namespace
}  // namespace sillwright::core
