#include "geometry/units.h"

#include <gtest/gtest.h>

#include <limits>
#include <numbers>
#include <type_traits>

namespace sillwright::geometry {
namespace {

using namespace literals;

static_assert(!std::is_convertible_v<double, Length>, "a bare number is no length");
static_assert(!std::is_convertible_v<Length, double>, "a length is no bare number");
static_assert(!std::is_convertible_v<Length, Angle>, "a length is no angle");
static_assert(sizeof(Length) == sizeof(double), "a length costs what a double costs");

TEST(Units, AnInchIs25Point4MillimetresExactly) {
    // International Yard and Pound Agreement, 1959.
    EXPECT_EQ(in_mm(inches(1.0)), 25.4);
    EXPECT_EQ(in_mm(inches(10.0)), 254.0);
}

TEST(Units, HalfATurnIsPiOr180Degrees) {
    EXPECT_DOUBLE_EQ(in_rad(degrees(180.0)), std::numbers::pi);
    EXPECT_DOUBLE_EQ(in_deg(radians(std::numbers::pi)), 180.0);
    EXPECT_DOUBLE_EQ(in_deg(90_deg), 90.0);
}

TEST(Units, AddSubtractScaleAndCompareAsNumbersDo) {
    EXPECT_EQ(1.5_mm + 2_mm, 3.5_mm);
    EXPECT_EQ(1.5_mm - 2_mm, -0.5_mm);
    EXPECT_EQ(2.0 * 3_mm, 6_mm);
    EXPECT_EQ(3_mm * 2.0, 6_mm);
    EXPECT_EQ(3_mm / 2.0, 1.5_mm);
    EXPECT_EQ(3_mm / 2_mm, 1.5);
    EXPECT_LT(2_mm, 3_mm);
    EXPECT_EQ(Length{}, 0_mm);
}

TEST(Units, NotANumberComparesAsNothing) {
    const Length nan = millimetres(std::numeric_limits<double>::quiet_NaN());
    EXPECT_FALSE(nan >= 0_mm);
    EXPECT_FALSE(nan < 0_mm);
    EXPECT_FALSE(nan == nan);
}

}  // namespace
}  // namespace sillwright::geometry
