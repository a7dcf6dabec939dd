#include "geometry/offset_law.h"

#include <gtest/gtest.h>

namespace sillwright::geometry {
namespace {

// By hand: at 0 mm 4 and 2, at 100 mm 3 and 1, marks 1 and 2.
OffsetLaw hand_law() {
    return {{millimetres(0.0), millimetres(100.0)}, {1.0, 2.0}, {4.0, 2.0, 3.0, 1.0}};
}

TEST(OffsetLaw, IsLinearBetweenRowsAndMarks) {
    const OffsetLaw law = hand_law();
    EXPECT_DOUBLE_EQ(law.at(millimetres(0.0), 1.5), 3.0);
    EXPECT_DOUBLE_EQ(law.at(millimetres(50.0), 1.0), 3.5);
    EXPECT_DOUBLE_EQ(law.at(millimetres(25.0), 1.25), 3.25);  // 3.75 and 1.75; a quarter of the way
    EXPECT_DOUBLE_EQ(law.at(millimetres(100.0), 2.0), 1.0);
}

TEST(OffsetLaw, StaysBeyondItsEnds) {
    const OffsetLaw law = hand_law();
    EXPECT_DOUBLE_EQ(law.at(millimetres(-10.0), 0.0), 4.0);
    EXPECT_DOUBLE_EQ(law.at(millimetres(900.0), 7.0), 1.0);
    EXPECT_DOUBLE_EQ(law.at(millimetres(900.0), 1.5), 2.0);
}

TEST(OffsetLaw, TheSameEverywhereIsOneNumber) {
    const OffsetLaw law = OffsetLaw::same(millimetres(-2.5));
    EXPECT_TRUE(law.is_same());
    EXPECT_FALSE(hand_law().is_same());
    EXPECT_DOUBLE_EQ(law.at(millimetres(123.0), 4.2), -2.5);
    EXPECT_DOUBLE_EQ(law.most(), -2.5);
}

TEST(OffsetLaw, GreatestAndLeastCountTheEndsAndWhatIsBetween) {
    const OffsetRow row{{0.0, 1.0, 2.0}, {1.0, 5.0, 2.0}};
    EXPECT_DOUBLE_EQ(row.most(0.0, 2.0), 5.0);
    EXPECT_DOUBLE_EQ(row.most(0.0, 0.5), 3.0);
    EXPECT_DOUBLE_EQ(row.least(0.5, 2.0), 2.0);
    EXPECT_DOUBLE_EQ(row.least(0.5, 1.5), 3.0);
    EXPECT_DOUBLE_EQ(row.most(1.5, 1.5), 3.5);
    EXPECT_DOUBLE_EQ(hand_law().least(), 1.0);
    EXPECT_DOUBLE_EQ(hand_law().most(), 4.0);
}

}  // namespace
}  // namespace sillwright::geometry
