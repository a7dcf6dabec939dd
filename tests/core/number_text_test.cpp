#include "core/number_text.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

TEST(NumberText, AsPeopleReadThem) {
    EXPECT_EQ(mm_text(geometry::millimetres(3.196)), "3.20 mm");
    EXPECT_EQ(mm_text(geometry::millimetres(-0.001)), "0.00 mm");
    EXPECT_EQ(degree_text(geometry::degrees(2.5)), "2.50°");
    EXPECT_EQ(degree_text(geometry::degrees(-0.0001)), "0.00°");
    EXPECT_EQ(mm_text(geometry::millimetres(699.5001), 0), "700 mm");
    EXPECT_EQ(degree_text(geometry::degrees(6.24), 1), "6.2°");
    EXPECT_EQ(fixed_text(3.94, 1), "3.9");
    EXPECT_EQ(fixed_text(-0.04, 1), "0.0");
    EXPECT_EQ(fixed_text(-0.4, 0), "0");
    EXPECT_EQ(fixed_text(-10.0, 0), "-10");
    EXPECT_EQ(number_text(0.42), "0.42");
    EXPECT_EQ(number_text(-0.0), "0");
}

}  // namespace
}  // namespace sillwright::core
