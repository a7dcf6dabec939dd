#include "app/drawings/angle_text.h"

#include <gtest/gtest.h>

namespace sillwright::app {
namespace {

using geometry::degrees;
using geometry::in_deg;

TEST(AngleText, ReadsWhatPeopleWrite) {
    for (const char* text : {"12.5", "12,5", " 12.5° ", "12.5 °", "12.5deg", "12.5 degrees", "+12.5"}) {
        const auto angle = read_angle(QString::fromUtf8(text));
        ASSERT_TRUE(angle) << text;
        EXPECT_DOUBLE_EQ(in_deg(angle.value()), 12.5) << text;
    }
    EXPECT_DOUBLE_EQ(in_deg(read_angle("12").value()), 12.0);
    EXPECT_DOUBLE_EQ(in_deg(read_angle(QString::fromUtf8("−3°")).value()), -3.0);
}

TEST(AngleText, RefusesInWords) {
    for (const char* text : {"", "  ", "wide", "12 mm", "1.2.3", "12°°", "nan", "inf", "1e3", "0x10"}) {
        const auto angle = read_angle(QString::fromUtf8(text));
        ASSERT_FALSE(angle) << text;
        EXPECT_NE(angle.error().message.find("12.5°"), std::string::npos) << "what would be right";
    }
    EXPECT_NE(read_angle("wide").error().message.find("\"wide\""), std::string::npos);
}

TEST(AngleText, IsShownWithOneDecimal) {
    EXPECT_EQ(angle_text(degrees(6.2)), QString::fromUtf8("6.2°"));
    EXPECT_EQ(angle_text(degrees(0)), QString::fromUtf8("0.0°"));
    EXPECT_EQ(angle_text(degrees(-0.01)), QString::fromUtf8("0.0°"));
}

}  // namespace
}  // namespace sillwright::app
