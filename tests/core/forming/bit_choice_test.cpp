#include "core/forming/bit_choice.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;

ToCut flute(double width, double depth, double radius) {
    return {{millimetres(width), millimetres(depth), millimetres(radius)}, {}};
}
ToCut recess(double width, double depth, double corner) {
    return {{millimetres(width), millimetres(depth), {}}, millimetres(corner)};
}

// 24 round nose: 20.785 at 6, 24 at 12.
TEST(BitChoice, TakesTheRoundNoseThatIsAsWide) {
    const auto shallow = best_fit({}, flute(20.8, 6, 12));
    ASSERT_TRUE(shallow);
    EXPECT_EQ(shallow->bit.name, "round nose 24");
    EXPECT_NEAR(in_mm(shallow->width), 20.785, 5e-4);
    EXPECT_EQ(shallow->passes, 1) << "6 is half of 12";
    const auto deep = best_fit({}, flute(24, 12, 12));
    EXPECT_EQ(deep->bit.name, "round nose 24");
    EXPECT_EQ(deep->passes, 2);
    EXPECT_NEAR(in_mm(deep->margin()), 0.5, 1e-9);
}

TEST(BitChoice, TakesTheFlatOneWithItsCorners) {
    EXPECT_EQ(best_fit({}, flute(12, 5, 3))->bit.name, "flat 12 corners 3");
    EXPECT_EQ(best_fit({}, flute(16, 5, 0))->bit.name, "flat 16");
}

TEST(BitChoice, SaysByHowMuchNoneDoesIt) {
    const auto none = best_fit({}, flute(24, 6, 12));
    ASSERT_TRUE(none);
    EXPECT_EQ(none->bit.name, "round nose 24");
    EXPECT_NEAR(in_mm(none->width_off), 20.785 - 24, 5e-4);
    EXPECT_NEAR(in_mm(none->margin()), 0.5 - (24 - 20.785), 5e-4);
    // Rounder than drawn.
    const auto round = fit_of({}, *find_bit({}, "round nose 12"), flute(12, 6, 2));
    EXPECT_NEAR(in_mm(round->radius_over), 4, 1e-9);
    EXPECT_NEAR(in_mm(round->margin()), -3.5, 1e-9);
    // Too short.
    const auto shallow = fit_of({}, *find_bit({}, "round nose 6"), flute(6, 15, 3));
    EXPECT_NEAR(in_mm(*shallow->reach_left), -2, 1e-9);
    EXPECT_NEAR(in_mm(shallow->margin()), -2, 1e-9);
}

TEST(BitChoice, ARecessIsClearedByTheWidestThatGoesRoundItsCorners) {
    EXPECT_EQ(best_fit({}, recess(40, 2, 8.5))->bit.name, "flat 16");
    EXPECT_EQ(best_fit({}, recess(40, 2, 3))->bit.name, "flat 6");
    const auto sharp = best_fit({}, recess(40, 2, 1));
    EXPECT_EQ(sharp->bit.name, "flat 6");
    EXPECT_NEAR(in_mm(sharp->radius_over), 2, 1e-9);
}

TEST(BitChoice, OwnBitsGoBeforeTheTable) {
    Router router;
    Bit own;
    own.name = "old one";
    own.form = BitForm::round_nose;
    own.diameter = Entry{millimetres(20), ""};
    router.bits = {own};
    router.pass_share = 0.25;
    const auto fit = best_fit(router, flute(24, 6, 12));
    EXPECT_EQ(fit->bit.name, "old one");
    EXPECT_FALSE(fit->reach_left);
    EXPECT_EQ(fit->passes, 3) << "6 by 2.5";
    router.bits.front().form = BitForm::vee;
    EXPECT_FALSE(best_fit(router, flute(24, 6, 12))) << "a V is never proposed";
}

}  // namespace
}  // namespace sillwright::core
