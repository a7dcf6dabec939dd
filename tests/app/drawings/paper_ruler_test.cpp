#include "app/drawings/paper_ruler.h"

#include <gtest/gtest.h>

// Expected values: hand counts; 25.4 mm to the inch.
namespace sillwright::app {
namespace {

using core::BareUnit;

TEST(PaperRuler, StepsAreOneTwoOrFive) {
    // At 2 pixels a millimetre 70 pixels are 35 mm.
    EXPECT_DOUBLE_EQ(ruler_step(70, 2.0, BareUnit::mm).length_mm, 50.0);
    EXPECT_DOUBLE_EQ(ruler_step(70, 4.0, BareUnit::mm).length_mm, 20.0);
    EXPECT_DOUBLE_EQ(ruler_step(70, 7.0, BareUnit::mm).length_mm, 10.0);
    EXPECT_DOUBLE_EQ(ruler_step(70, 2.0, BareUnit::cm).length_mm, 50.0);
}

TEST(PaperRuler, InchesBelowOneAreHalved) {
    // 70 pixels are 0.5512 in at 5 pixels a millimetre, 0.1378 in at 20.
    EXPECT_DOUBLE_EQ(ruler_step(70, 5.0, BareUnit::in).length_mm, 25.4);
    EXPECT_DOUBLE_EQ(ruler_step(70, 20.0, BareUnit::in).length_mm, 6.35);
    EXPECT_DOUBLE_EQ(ruler_step(70, 100.0, BareUnit::in).length_mm, 25.4 / 16.0);
}

TEST(PaperRuler, NumbersReadAsOnARule) {
    EXPECT_EQ(ruler_number(0.0, BareUnit::mm), "0");
    EXPECT_EQ(ruler_number(-0.0, BareUnit::mm), "0");
    EXPECT_EQ(ruler_number(-50.0, BareUnit::mm), QString(QChar(0x2212)) + "50");
    EXPECT_EQ(ruler_number(0.5, BareUnit::mm), "0.5");
    EXPECT_EQ(ruler_number(50.8, BareUnit::in), "2");
    EXPECT_EQ(ruler_number(38.1, BareUnit::in), "1 1/2");
}

}  // namespace
}  // namespace sillwright::app
