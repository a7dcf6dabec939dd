#include "app/drawings/solid_pick.h"

#include <gtest/gtest.h>

// Expected values: by hand. One millimetre is one pixel; the eye looks from outside, along -y.
namespace sillwright::app {
namespace {

using Eigen::Vector3d;

const QSizeF k_sheet(400, 400);

SolidLook from_outside() {
    SolidLook look;
    look.across = geometry::millimetres(400);
    return looking_from(LookFrom::outside, true, look);
}

/// An upright square of 100 mm at y, its lower front corner at (0, y, 0).
PickedBody square(double y) {
    auto mesh = std::make_shared<geometry::Mesh>();
    mesh->points = {{0, y, 0}, {100, y, 0}, {100, y, 100}, {0, y, 100}};
    mesh->triangles = {{0, 1, 2}, {0, 2, 3}};
    return {mesh, bounds_of(*mesh), DoorPose::Identity()};
}

TEST(SolidPick, TheNearerToTheEyeIsMet) {
    const std::vector<PickedBody> bodies = {square(10), square(50), square(-20)};
    const auto hit = hit_at(bodies, from_outside(), {150, 170}, k_sheet);  // x = 50, z = 30
    ASSERT_TRUE(hit);
    EXPECT_EQ(hit->body, 1U);
    EXPECT_NEAR((hit->at_mm - Vector3d(50, 50, 30)).norm(), 0.0, 1e-9);
}

TEST(SolidPick, BareMeansNone) {
    EXPECT_FALSE(hit_at({square(10)}, from_outside(), {250, 170}, k_sheet));
    EXPECT_FALSE(hit_at({}, from_outside(), {150, 170}, k_sheet));
}

TEST(SolidPick, EitherSideCounts) {
    const SolidLook inside = looking_from(LookFrom::outside, false, from_outside());
    EXPECT_TRUE(hit_at({square(10)}, inside, {250, 170}, k_sheet));
}

TEST(SolidPick, AMovedBodyIsMetWhereItStands) {
    PickedBody body = square(0);
    body.pose.col(3) = Vector3d(-100, 30, 0);
    EXPECT_FALSE(hit_at({body}, from_outside(), {150, 170}, k_sheet));
    const auto hit = hit_at({body}, from_outside(), {250, 170}, k_sheet);  // x = -50
    ASSERT_TRUE(hit);
    EXPECT_NEAR((hit->at_mm - Vector3d(-50, 30, 30)).norm(), 0.0, 1e-9);
}

}  // namespace
}  // namespace sillwright::app
