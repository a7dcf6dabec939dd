#include "core/edit/cell.h"

#include <gmock/gmock.h>

#include "core/job_file/words.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;
using testing::HasSubstr;

std::string message(const geometry::Status& status) {
    return status ? "taken" : status.error().message;
}

TEST(LengthCell, KeepsWhatWasTypedAndReadsItBack) {
    std::optional<Entry> value;
    EXPECT_TRUE(write_cell_text(" 1 1/2\" ", BareUnit::mm, value));
    EXPECT_EQ(length_cell(value, BareUnit::mm), "1 1/2\"");
    EXPECT_DOUBLE_EQ(in_mm(value->value), 38.1);
    EXPECT_TRUE(write_cell_text("2", BareUnit::in, value));
    EXPECT_DOUBLE_EQ(in_mm(value->value), 50.8);
    EXPECT_TRUE(write_cell_text("  ", BareUnit::mm, value));
    EXPECT_FALSE(value) << "not measured, not zero";
    EXPECT_EQ(length_cell(value, BareUnit::mm), "");
    value = Entry{millimetres(5), ""};
    EXPECT_THAT(message(write_cell_text("5 furlongs", BareUnit::mm, value)),
                HasSubstr("\"5 furlongs\" is not a length."));
    EXPECT_EQ(value, (Entry{millimetres(5), ""})) << "as it was";
}

TEST(LengthCell, ANeededOneIsNotEmptied) {
    Entry value{millimetres(5), "5"};
    EXPECT_THAT(message(write_cell_text("", BareUnit::mm, value)), HasSubstr("cannot be left empty"));
    EXPECT_EQ(value.typed, "5");
    EXPECT_TRUE(write_cell_text("6", BareUnit::mm, value));
    EXPECT_EQ(value.typed, "6");
}

TEST(AngleCell, IsInDegrees) {
    std::optional<geometry::Angle> value;
    for (const char* text : {"68.5", "68,5", " 68.5° ", "68.5 deg", "68.5 Degrees", "+68.5"}) {
        EXPECT_TRUE(write_cell_text(text, value)) << text;
        EXPECT_EQ(value, geometry::degrees(68.5)) << text;
        EXPECT_EQ(angle_cell(value), "68.5");
    }
    EXPECT_TRUE(write_cell_text("\u22123", value));
    EXPECT_EQ(value, geometry::degrees(-3)) << "a typographic minus";
    EXPECT_TRUE(write_cell_text("", value));
    EXPECT_FALSE(value);
    EXPECT_EQ(angle_cell(value), "");
    for (const char* text : {"wide", "68 mm", "6e1", "nan", "inf", "1.2.3", "+-3"}) {
        EXPECT_THAT(message(write_cell_text(text, value)), HasSubstr("is not an angle. Write degrees")) << text;
    }
}

TEST(NumberCell, EmptyIsTheUsual) {
    double value = 0.25;
    EXPECT_TRUE(write_cell_number("0,5", 1.0, value));
    EXPECT_EQ(value, 0.5);
    EXPECT_TRUE(write_cell_number("", 1.0, value));
    EXPECT_EQ(value, 1.0);
    EXPECT_THAT(message(write_cell_number("half", 1.0, value)), HasSubstr("\"half\" is not a number"));
}

TEST(NumberCell, HasNoPowerOfTen) {
    for (const double value : {0.000025, 0.00009, 1.0 / 3.0, 120.0, -0.5, 1e7}) {
        const std::string text = number_cell(value);
        EXPECT_EQ(text.find('e'), std::string::npos) << text;
        double read = 0.0;
        EXPECT_TRUE(write_cell_number(text, 1.0, read)) << text;
        EXPECT_EQ(read, value);
    }
    EXPECT_EQ(number_cell(0.000025), "0.000025");
    EXPECT_EQ(number_cell(-0.0), "0");
}

TEST(PercentCell, IsPerCentWithAndWithoutTheSign) {
    std::optional<double> value;
    for (const char* text : {"0.6 %", "0.6%", "0,6 %", " 0.6 ", "+0.6 %"}) {
        EXPECT_TRUE(write_cell_percent(text, value)) << text;
        EXPECT_EQ(value, 0.006) << text;
        EXPECT_EQ(percent_cell(value), "0.6 %");
    }
    EXPECT_TRUE(write_cell_percent("\u22120.05", value));
    EXPECT_EQ(value, -0.0005);
    EXPECT_TRUE(write_cell_percent("", value));
    EXPECT_FALSE(value);
    EXPECT_EQ(percent_cell(value), "");
    for (const char* text : {"%", "six", "0.6 mm", "6e-1", "0.6 % %", "1/2 %"}) {
        EXPECT_THAT(message(write_cell_percent(text, value)), HasSubstr("is not a number of per cent")) << text;
    }
    EXPECT_FALSE(value);
}

// Moving the point is done on the digits: no share may come back as another one.
TEST(PercentCell, KeepsEveryDigit) {
    for (int i = -1000; i <= 1000; ++i) {
        const double share = i / 10000.0;
        std::optional<double> read;
        EXPECT_TRUE(write_cell_percent(percent_cell(share), read));
        EXPECT_EQ(read, share);
        EXPECT_LE(percent_cell(share).size(), std::string("-10.00 %").size()) << percent_cell(share);
    }
    for (const double share : {1.0 / 3.0, 0.007, 0.1 + 0.2, 1e-12}) {
        std::optional<double> read;
        EXPECT_TRUE(write_cell_percent(percent_cell(share), read));
        EXPECT_EQ(read, share);
    }
}

TEST(DirectionCell, ReadsAsItWasWritten) {
    Direction value;
    for (const char* text : {"0 0.02 -1", "0, 0.02, -1", "0 0,02 -1", "0/0.02/-1", "0 / 0.02 / -1"}) {
        EXPECT_TRUE(write_cell_direction(text, value)) << text;
        EXPECT_NEAR((value - Direction(0, 0.02, -1).normalized()).norm(), 0.0, 1e-15) << text;
        EXPECT_EQ(direction_cell(value), "0 0.02 -1");
    }
    for (const char* text : {"", "down", "0 -1", "0 0 0", "0 0 0 1"}) {
        EXPECT_THAT(message(write_cell_direction(text, value)), HasSubstr("is not a direction. Write three numbers"))
            << text;
    }
}

TEST(WordCell, IsOneOfItsList) {
    MountUse use = MountUse::unused;
    EXPECT_TRUE(write_cell_word(" Top Edge ", job_file::k_use_words, use));
    EXPECT_EQ(use, MountUse::top_edge);
    EXPECT_EQ(word_cell(job_file::k_use_words, use), "top edge");
    EXPECT_EQ(message(write_cell_word("roof", job_file::k_use_words, use)),
              "\"roof\" cannot stand here. Write one of: flange, top edge, unused.");
    EXPECT_FALSE(write_cell_word("", job_file::k_use_words, use));
    EXPECT_EQ(use, MountUse::top_edge);
}

TEST(NameCell, IsNotEmpty) {
    std::string value = "H1";
    EXPECT_TRUE(write_cell_name(" H2 ", value));
    EXPECT_EQ(value, "H2");
    EXPECT_THAT(message(write_cell_name(" ", value)), HasSubstr("Write a name"));
}

}  // namespace
}  // namespace sillwright::core
