#include "core/forming/flute_form.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::in_deg;
using geometry::in_mm;
using geometry::millimetres;
using std::numbers::pi;

GrooveSection section(double width, double depth, double radius) {
    return {millimetres(width), millimetres(depth), millimetres(radius)};
}

// The mouth of a 24 round nose 6 deep: cos b = (12 - 6) / 12.
TEST(FluteForm, StandsSquareOrComesUpRound) {
    EXPECT_NEAR(in_deg(mouth_angle(section(20.78, 6, 12))), 60, 1e-9);
    EXPECT_NEAR(in_deg(mouth_angle(section(24, 6, 3))), 90, 1e-9);
}

// As shops work it out: 24 seen at b = 60°, t = 3 needs 24 + 2·3·tan 30° = 27.46 on the mould.
TEST(FluteForm, SheetTakesFromTheWidthOnAMaleMould) {
    const auto seen = groove_faces(section(24, 6, 12), DrawnFace::outside, MouldKind::male, millimetres(3));
    EXPECT_NEAR(in_mm(seen.mould.width), 27.464, 5e-4);
    EXPECT_NEAR(in_mm(seen.seen_width), 24, 1e-12);
    EXPECT_NEAR(in_mm(seen.mould.bottom_radius), 15, 1e-12);
    const auto laid = groove_faces(section(27.464, 6, 12), DrawnFace::inside, MouldKind::male, millimetres(3));
    EXPECT_NEAR(in_mm(laid.seen_width), 24, 5e-4);
    EXPECT_NEAR(in_mm(laid.seen_radius), 9, 1e-12);
    // Square walls: a sheet at each.
    const auto square = groove_faces(section(24, 6, 3), DrawnFace::inside, MouldKind::male, millimetres(3));
    EXPECT_NEAR(in_mm(square.seen_width), 18, 1e-9);
}

TEST(FluteForm, OnAFemaleMouldItIsSeenAsItIs) {
    const auto faces = groove_faces(section(24, 6, 3), DrawnFace::outside, MouldKind::female, millimetres(3));
    EXPECT_EQ(faces.mould.width, faces.seen_width);
    EXPECT_EQ(in_mm(faces.seen_width), 24);
    const auto inside = groove_faces(section(24, 6, 4), DrawnFace::inside, MouldKind::female, millimetres(3));
    EXPECT_NEAR(in_mm(inside.mould.width), 18, 1e-9);
    EXPECT_NEAR(in_mm(inside.mould.bottom_radius), 1, 1e-9);
    EXPECT_EQ(in_mm(bottom_thickness(faces.mould, MouldKind::female, millimetres(3))), 3.0);
}

TEST(FluteForm, TheDrawnGrooveIsFoundBack) {
    for (const DrawnFace face : {DrawnFace::inside, DrawnFace::outside}) {
        for (const MouldKind mould : {MouldKind::male, MouldKind::female}) {
            for (const GrooveSection& drawn : {section(24, 6, 12), section(24, 6, 4), section(30, 9, 7)}) {
                const auto faces = groove_faces(drawn, face, mould, millimetres(2.5));
                const auto back = drawn_for_mould(faces.mould, face, mould, millimetres(2.5));
                EXPECT_NEAR(in_mm(back.width), in_mm(drawn.width), 1e-9);
                EXPECT_NEAR(in_mm(back.bottom_radius), in_mm(drawn.bottom_radius), 1e-9);
            }
        }
    }
}

// A round cut is evenly thick: sin 60° / 60° of the sheet.
TEST(FluteForm, ThinsInTheBottomOfAMaleMould) {
    const double width = 2 * std::sqrt(6.0 * 18);
    EXPECT_NEAR(in_mm(bottom_thickness(section(width, 6, 12), MouldKind::male, millimetres(3))),
                3 * std::sin(pi / 3) / (pi / 3), 1e-6);
    const auto sharp = bottom_thickness(section(24, 6, 0), MouldKind::male, millimetres(3));
    EXPECT_EQ(sharp, bottom_thickness(section(24, 6, 3), MouldKind::male, millimetres(3))) << "bridged by the sheet";
    EXPECT_LT(in_mm(sharp), 3 * 0.8);
}

// Drawn along the surface the wall ahead catches all of the depth; square to it none; at 30° off the surface:
// the bottom's sharp corner lies right under the mouth's edge: depth · cos 30°.
TEST(FluteForm, WallsHoldThePart) {
    const auto over = [](const GrooveSection& groove, double degrees) {
        const double a = degrees * pi / 180;
        return in_mm(groove_undercut(groove, {-std::cos(a), std::sin(a)}));
    };
    EXPECT_NEAR(over(section(24, 6, 0), 0), 6, 1e-9);
    EXPECT_NEAR(over(section(24, 6, 0), 30), 6 * std::cos(pi / 6), 1e-9);
    EXPECT_NEAR(over(section(24, 6, 0), 90), 0, 1e-9);
    EXPECT_NEAR(over(section(24, 6, 0), 60), over(section(24, 6, 0), 120), 1e-9) << "either side alike";
    // A round cut: caught below where its wall is as steep as the draw; at 60° to the surface its wall lets go.
    const double width = 2 * std::sqrt(6.0 * 18);
    EXPECT_NEAR(over(section(width, 6, 12), 60), 0, 0.02);
    EXPECT_NEAR(over(section(width, 6, 12), 70), 0, 1e-9);
    // At 30°: from the mouth's edge at 60° of the arc to where the tangent is 30°: 12 (1 - cos 30°).
    EXPECT_NEAR(over(section(width, 6, 12), 30), 12 * (1 - std::cos(pi / 6)), 0.06);
}

TEST(FluteForm, ASingleRoundingStaysOneWithAnotherDepth) {
    const auto less = with_depth(section(2 * std::sqrt(6.0 * 18), 6, 12), millimetres(3));
    EXPECT_NEAR(in_mm(less.width), 2 * std::sqrt(3.0 * 21), 1e-9);
    EXPECT_EQ(in_mm(with_depth(section(24, 6, 3), millimetres(3)).width), 24);
}

}  // namespace
}  // namespace sillwright::core
