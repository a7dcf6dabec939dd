#include "app/drawings/solid_look.h"

#include <gtest/gtest.h>

#include <cmath>

// Expected values: by hand, from x rearward, y to the driver's right, z up (ISO 4130).
namespace sillwright::app {
namespace {

using Eigen::Vector3d;
using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using geometry::millimetres;

const QSizeF k_sheet(800, 400);

SolidLook from(LookFrom direction, bool right_hand = true) {
    SolidLook look;
    look.across = millimetres(400);  // one millimetre a pixel
    return looking_from(direction, right_hand, look);
}

TEST(SolidLook, FromOutsideTheFrontIsOnTheSideWhereItIs) {
    // Who stands at the car's right and looks at it has its front at his right hand, up above.
    const SolidLook right = from(LookFrom::outside);
    EXPECT_NEAR((right.to_eye() - Vector3d(0, 1, 0)).norm(), 0.0, 1e-12);
    EXPECT_NEAR(right.on_sheet({-100, 0, 0}, k_sheet).x(), 500.0, 1e-9);
    EXPECT_NEAR(right.on_sheet({0, 0, 50}, k_sheet).y(), 150.0, 1e-9);
    const SolidLook left = from(LookFrom::outside, false);
    EXPECT_NEAR((left.to_eye() - Vector3d(0, -1, 0)).norm(), 0.0, 1e-12);
    EXPECT_NEAR(left.on_sheet({-100, 0, 0}, k_sheet).x(), 300.0, 1e-9);
}

TEST(SolidLook, AlongTheSillOutIsToTheRightAsInTheSection) {
    EXPECT_NEAR(from(LookFrom::end).on_sheet({0, 10, 0}, k_sheet).x(), 410.0, 1e-9);
    EXPECT_NEAR(from(LookFrom::end, false).on_sheet({0, -10, 0}, k_sheet).x(), 410.0, 1e-9);
    EXPECT_NEAR(from(LookFrom::end, false).on_sheet({0, 0, 10}, k_sheet).y(), 190.0, 1e-9);
}

TEST(SolidLook, FromBelowTheOutsideIsAbove) {
    const SolidLook below = from(LookFrom::below);
    EXPECT_NEAR((below.to_eye() - Vector3d(0, 0, -1)).norm(), 0.0, 1e-12);
    EXPECT_NEAR(below.on_sheet({0, 10, 0}, k_sheet).y(), 190.0, 1e-9);
}

TEST(SolidLook, WhatIsUnderAPointIsShownThere) {
    const SolidLook look = turned(from(LookFrom::corner), {37, -21}, k_sheet);
    const QPointF point(123, 45);
    const QPointF again = look.on_sheet(look.under(point, k_sheet), k_sheet);
    EXPECT_NEAR(again.x(), point.x(), 1e-9);
    EXPECT_NEAR(again.y(), point.y(), 1e-9);
}

TEST(SolidLook, TurningKeepsUpUpAndStopsOverhead) {
    SolidLook look = from(LookFrom::outside);
    for (int i = 0; i < 100; ++i) {
        look = turned(look, {7, 11}, k_sheet);
        EXPECT_NEAR(look.right().z(), 0.0, 1e-12) << "no roll";
    }
    EXPECT_NEAR(in_deg(look.above), 90.0, 1e-12);
}

TEST(SolidLook, WhatIsTakenHoldOfMovesWithTheHand) {
    const SolidLook look = from(LookFrom::corner);
    const Vector3d held = look.under({300, 100}, k_sheet);
    const QPointF now = moved(look, {25, -40}, k_sheet).on_sheet(held, k_sheet);
    EXPECT_NEAR(now.x(), 325.0, 1e-9);
    EXPECT_NEAR(now.y(), 60.0, 1e-9);
}

TEST(SolidLook, ZoomingKeepsWhatIsUnderThePointer) {
    const SolidLook look = from(LookFrom::corner);
    const QPointF about(650, 80);
    const Vector3d held = look.under(about, k_sheet);
    const SolidLook closer = zoomed(look, 4.0, about, k_sheet);
    EXPECT_NEAR(in_mm(closer.across), 100.0, 1e-9);
    EXPECT_NEAR(closer.on_sheet(held, k_sheet).x(), 650.0, 1e-9);
    EXPECT_NEAR(closer.on_sheet(held, k_sheet).y(), 80.0, 1e-9);
    EXPECT_GT(in_mm(zoomed(look, 1e30, about, k_sheet).across), 0.0);
    EXPECT_TRUE(std::isfinite(in_mm(zoomed(look, 1e-30, about, k_sheet).across)));
}

TEST(SolidLook, FittedIsAllInTheMiddleOnAnySheet) {
    SolidBounds box;
    box.take_in({-100, 600, 0});
    box.take_in({2000, 900, 500});
    for (const QSizeF sheet : {QSizeF(800, 400), QSizeF(300, 700), QSizeF(316, 130)}) {
        const SolidLook look = fitted(from(LookFrom::corner), {box}, sheet);
        double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9;
        for (const Vector3d& corner : box.corners_mm()) {
            const QPointF p = look.on_sheet(corner, sheet);
            left = std::min(left, p.x());
            right = std::max(right, p.x());
            top = std::min(top, p.y());
            bottom = std::max(bottom, p.y());
        }
        EXPECT_NEAR(left, sheet.width() - right, 1e-6);
        EXPECT_NEAR(top, sheet.height() - bottom, 1e-6);
        EXPECT_GT(left, 0.0);
        EXPECT_GT(top, 0.0);
        // One of them fills the sheet but for the room of 12 hundredths.
        EXPECT_NEAR(std::max((right - left) / sheet.width(), (bottom - top) / sheet.height()), 1.0 / 1.12, 1e-9);
    }
}

TEST(SolidLook, NothingToFitLeavesItAsItIs) {
    const SolidLook look = from(LookFrom::corner);
    EXPECT_EQ(fitted(look, {}, k_sheet), look);
    EXPECT_EQ(fitted(look, {SolidBounds{}}, k_sheet), look);
}

TEST(SolidLook, ABoxThatWasTurnedIsInItsBounds) {
    SolidBounds box;
    box.take_in({0, 0, 0});
    box.take_in({100, 10, 1});
    DoorPose quarter = DoorPose::Identity();  // about the upright, x to y
    quarter.leftCols<3>() << 0, -1, 0, 1, 0, 0, 0, 0, 1;
    const SolidBounds turned_box = bounds_of(box, quarter);
    EXPECT_NEAR((turned_box.low_mm - Vector3d(-10, 0, 0)).norm(), 0.0, 1e-12);
    EXPECT_NEAR((turned_box.high_mm - Vector3d(0, 100, 1)).norm(), 0.0, 1e-12);
}

}  // namespace
}  // namespace sillwright::app
