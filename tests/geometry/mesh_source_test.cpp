#include "geometry/mesh_source.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace sillwright::geometry {
namespace {

TEST(MeshSource, AnInchIs25Point4Millimetres) {
    EXPECT_EQ(mm_per(FileUnit::millimetre), 1.0);
    EXPECT_EQ(mm_per(FileUnit::centimetre), 10.0);
    EXPECT_EQ(mm_per(FileUnit::inch), 25.4);  // International Yard and Pound Agreement, 1959
}

TEST(MeshSource, ReadsNumbersAsFilesWriteThem) {
    EXPECT_EQ(number_in("12.5"), 12.5);
    EXPECT_EQ(number_in("+1e-3"), 0.001);
    EXPECT_EQ(number_in("-.5"), -0.5);
    EXPECT_EQ(number_in("1e-999"), 0.0);
    EXPECT_EQ(number_in("-1e999"), std::numeric_limits<double>::infinity());
    EXPECT_TRUE(std::isnan(number_in("nan").value()));
    for (const char* bad : {"", "+", "+-1", "1,5", "1.5x", "0x10", "--1"}) {
        EXPECT_EQ(number_in(bad), std::nullopt) << bad;
    }
    EXPECT_EQ(whole_number_in("-7"), -7);
    EXPECT_EQ(whole_number_in("7.0"), std::nullopt);
    EXPECT_EQ(whole_number_in("99999999999999999999"), std::nullopt);
}

TEST(MeshSource, TakesWordsAndLinesApart) {
    std::string_view text = " one\ttwo \r\nthree";
    std::string_view line = take_line(text);
    EXPECT_EQ(take_word(line), "one");
    EXPECT_EQ(take_word(line), "two");
    EXPECT_EQ(take_word(line), "");
    EXPECT_EQ(take_line(text), "three");
    EXPECT_TRUE(text.empty());
}

TEST(MeshSource, NumbersReadBackTheSame) {
    for (const double number : {0.1, -1e-300, 1234567.8901234, 5e-324}) {
        std::string text;
        append_number(text, number);
        EXPECT_EQ(number_in(text), number);
    }
}

TEST(MeshSource, ShowsOnlyWhatCanBePrinted) {
    EXPECT_EQ(shown("a\x01\xff"), "\"a??\"");
    EXPECT_EQ(shown(std::string(100, 'x')).size(), 30U + 5U);
}

TEST(MeshSource, FindsPointsThatCannotBe) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_FALSE(point_fault({1e7, -1e7, 0}));
    EXPECT_TRUE(point_fault({0, 0, 1.1e7}));
    EXPECT_TRUE(point_fault({nan, 0, 0}));
    EXPECT_TRUE(point_fault({0, nan, 1}));
    EXPECT_TRUE(point_fault({0, 0, std::numeric_limits<double>::infinity()}));
}

}  // namespace
}  // namespace sillwright::geometry
