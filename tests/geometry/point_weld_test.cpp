#include "geometry/point_weld.h"

#include <gtest/gtest.h>

#include <cmath>

namespace sillwright::geometry {
namespace {

TEST(PointWeld, EqualPointsHaveOneNumber) {
    PointWeld weld(1);
    EXPECT_EQ(weld.number_of({1, 2, 3}), 0);
    EXPECT_EQ(weld.number_of({1, 2, std::nextafter(3.0, 4.0)}), 1);
    EXPECT_EQ(weld.number_of({1, 2, 3}), 0);
    EXPECT_EQ(weld.points().size(), 2U);
}

TEST(PointWeld, MinusZeroIsZero) {
    PointWeld weld(1);
    EXPECT_EQ(weld.number_of({0.0, 5, 0.0}), weld.number_of({-0.0, 5, -0.0}));
}

TEST(PointWeld, KeepsItsNumbersWhileItGrows) {
    PointWeld weld(0);
    for (int round = 0; round < 2; ++round) {
        for (std::int32_t i = 0; i < 10000; ++i) {
            ASSERT_EQ(weld.number_of({0.25 * (i % 100), 0.25 * (i / 100), -7.0}), i);
        }
    }
}

}  // namespace
}  // namespace sillwright::geometry
