#include "core/survey/survey_number.h"

#include <gtest/gtest.h>

#include <numbers>

namespace sillwright::core::survey {
namespace {

TEST(SurveyNumber, IsAsFineAsATapeIsRead) {
    EXPECT_EQ(survey_number(412.75, ReadingKind::tie, BareUnit::cm), "41.27");   // exactly half: to even
    EXPECT_EQ(survey_number(412.75, ReadingKind::tie, BareUnit::in), "16.250");  // 412.75 / 25.4
    EXPECT_EQ(survey_number(-0.04, ReadingKind::height, BareUnit::mm), "0.0");
    EXPECT_EQ(survey_number(std::numbers::pi / 3.0, ReadingKind::angle, BareUnit::in), "60.00°");
}

TEST(SurveyUnit, StandsBehindLengthsAlone) {
    EXPECT_EQ(survey_unit(ReadingKind::gap, BareUnit::in), " in");
    EXPECT_EQ(survey_unit(ReadingKind::slope, BareUnit::mm), "");
}

}  // namespace
}  // namespace sillwright::core::survey
