#include "app/drawings/strip_scale.h"

#include <gtest/gtest.h>

// By hand.
namespace sillwright::app {
namespace {

TEST(StripScale, IsTrueAlongAndSaysHowMuchLargerHeightsAre) {
    StripGround ground;
    ground.front_mm = 100.0;
    ground.rear_mm = 1100.0;
    ground.floor_mm = -50.0;
    ground.ceiling_mm = 150.0;
    // Half a pixel for a millimetre along; 210 pixels for 200 mm are 2.1 times that, the next step down is 2.
    const StripScale scale = strip_scale(ground, QRectF(10.0, 40.0, 500.0, 210.0));
    EXPECT_EQ(scale.along, 0.5);
    EXPECT_EQ(scale.heights, 2.0);
    EXPECT_EQ(scale.x(600.0), 260.0);
    EXPECT_EQ(scale.y(150.0), 45.0) << "10 pixels are left, half above";
    EXPECT_EQ(scale.y(0.0), 195.0);
    EXPECT_EQ(scale.along_at(260.0), 600.0);
    EXPECT_EQ(scale.height_at(195.0), 0.0);
}

TEST(StripScale, EnlargesByRoundNumbers) {
    EXPECT_EQ(enlarged(9.0, 0.4, 9.0), 3.0);  // 3.6 pixels, 10.8 at three times
    EXPECT_EQ(enlarged(9.0, 4.0, 9.0), 1.0);
    EXPECT_EQ(exaggerated(1.2, 0.4, 20.0), 20.0);  // 9.6 pixels at 20 times, 24 at 50
    EXPECT_EQ(exaggerated(100.0, 1.0, 20.0), 1.0);
}

}  // namespace
}  // namespace sillwright::app
