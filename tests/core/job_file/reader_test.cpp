#include "core/job_file/reader.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "core/job_file/words.h"

namespace sillwright::core::job_file {
namespace {

using geometry::degrees;
using geometry::in_mm;

/// A reader over JSON that stands at /mount.
struct Read {
    explicit Read(const char* text, BareUnit unit = BareUnit::mm) : json(Json::parse(text)), reading{unit, {}} {}
    Json json;
    Reading reading;
    JobReader reader{json, "/mount", reading};

    [[nodiscard]] std::string refused_at() const { return reading.first ? reading.first->pointer : "nowhere"; }
    [[nodiscard]] std::string message() const { return reading.first ? reading.first->message : ""; }
};

TEST(JobReader, TakesLengthsInTheJobsUnitOrAsTyped) {
    Read in(R"({"bare": 2, "typed": "1 1/2\""})", BareUnit::in);
    Entry bare;
    std::optional<Entry> typed;
    in.reader.length("bare", bare);
    in.reader.length("typed", typed);
    EXPECT_FALSE(in.reading.first) << in.message();
    EXPECT_DOUBLE_EQ(in_mm(bare.value), 50.8);  // 1 in = 25.4 mm
    EXPECT_EQ(bare.typed, "");
    ASSERT_TRUE(typed);
    EXPECT_DOUBLE_EQ(in_mm(typed->value), 38.1);
    EXPECT_EQ(typed->typed, "1 1/2\"");
}

TEST(JobReader, WhatIsNotMeasuredStaysEmpty) {
    Read in(R"({"null": null, "sd": [0.5, null, 0.4]})");
    std::optional<Entry> absent;
    std::optional<Entry> null;
    std::array<std::optional<Entry>, 3> sd;
    in.reader.length("absent", absent);
    in.reader.length("null", null);
    in.reader.three_lengths("sd", sd);
    EXPECT_FALSE(in.reading.first);
    EXPECT_FALSE(absent);
    EXPECT_FALSE(null);
    EXPECT_TRUE(sd[0]);
    EXPECT_FALSE(sd[1]);
    EXPECT_TRUE(sd[2]);
}

TEST(JobReader, UsualValuesStandInForWhatIsLeftOut) {
    Read in(R"({"other": 7, "wide_deg": 4})");
    const Entry usual{geometry::millimetres(6.0), ""};
    Entry gap;
    Entry other;
    double share = 0.0;
    geometry::Angle usual_angle;
    geometry::Angle wide;
    bool closed = false;
    in.reader.length_or("gap", gap, usual);
    in.reader.length_or("other", other, usual);
    in.reader.number_or("share", share, 1.0);
    in.reader.angle_setting("usual_deg", usual_angle, degrees(3.0));
    in.reader.angle_setting("wide_deg", wide, degrees(3.0));
    in.reader.flag("closed", closed, true);
    EXPECT_EQ(gap, usual);
    EXPECT_DOUBLE_EQ(in_mm(other.value), 7.0);
    EXPECT_EQ(share, 1.0);
    EXPECT_EQ(usual_angle, degrees(3.0));
    EXPECT_EQ(wide, degrees(4.0));
    EXPECT_TRUE(closed);
}

TEST(JobReader, KeepsFieldsThatItWasNotAskedFor) {
    Read in(R"({"name": "H1", "colour": "red", "more": {"a": [1]}})");
    std::string name;
    Unknown unknown;
    in.reader.name("name", name);
    in.reader.rest(unknown);
    EXPECT_EQ(name, "H1");
    EXPECT_EQ(unknown.fields, (std::map<std::string, std::string>{{"colour", "\"red\""}, {"more", R"({"a":[1]})"}}));
}

struct Refused {
    const char* what;
    const char* text;
    void (*take)(JobReader&);
    const char* pointer;
    const char* says;
};
void PrintTo(const Refused& refused, std::ostream* out) {
    *out << refused.what;
}

void take_length(JobReader& reader) {
    Entry entry;
    reader.length("size", entry);
}
void take_name(JobReader& reader) {
    std::string name;
    reader.name("size", name);
}
void take_flag(JobReader& reader) {
    bool flag = false;
    reader.flag("size", flag, false);
}
void take_number(JobReader& reader) {
    std::optional<double> number;
    reader.number("size", number);
}
void take_sd(JobReader& reader) {
    std::array<std::optional<Entry>, 3> sd;
    reader.three_lengths("size", sd);
}
void take_direction(JobReader& reader) {
    Direction direction = Direction::UnitZ();
    reader.direction("size", direction);
}
void take_word(JobReader& reader) {
    Side side = Side::right;
    reader.word("size", side, k_side_words);
}
void take_version(JobReader& reader) {
    reader.version("size");
}

class JobReaderRefuses : public testing::TestWithParam<Refused> {};

TEST_P(JobReaderRefuses, WithThePlaceAndTheCure) {
    Read in(GetParam().text);
    GetParam().take(in.reader);
    EXPECT_EQ(in.refused_at(), GetParam().pointer);
    EXPECT_NE(in.message().find(GetParam().says), std::string::npos) << in.message();
}

INSTANTIATE_TEST_SUITE_P(
    Cases, JobReaderRefuses,
    testing::Values(
        Refused{"missing length", "{}", take_length, "/mount/size", "is missing. Add it"},
        Refused{"length with a wrong unit", R"({"size": "8 mmm"})", take_length, "/mount/size", "write mm, cm, m, in"},
        Refused{"length as a list", R"({"size": [8]})", take_length, "/mount/size", "a list is not a length"},
        Refused{"length beyond 1 km", R"({"size": 1e7})", take_length, "/mount/size", "longer than 1 km"},
        Refused{"empty name", R"({"size": ""})", take_name, "/mount/size", "Write a name"},
        Refused{"name as a number", R"({"size": 8})", take_name, "/mount/size", "is not text"},
        Refused{"flag in quotation marks", R"({"size": "true"})", take_flag, "/mount/size", "without quotation marks"},
        Refused{"number in quotation marks", R"({"size": "8"})", take_number, "/mount/size", "Write a bare number"},
        Refused{"two deviations", R"({"size": [1, 2]})", take_sd, "/mount/size", "[along, out, up]"},
        Refused{"one bad deviation", R"({"size": [1, true, 3]})", take_sd, "/mount/size/1", "is not a length"},
        Refused{"direction of zero", R"({"size": [0, 0, 0]})", take_direction, "/mount/size", "has no length"},
        Refused{"direction of two", R"({"size": [0, 1]})", take_direction, "/mount/size", "Write three numbers"},
        Refused{"unknown word", R"({"size": "port"})", take_word, "/mount/size", R"(Write one of "left", "right")"},
        Refused{"newer version", R"({"size": 99})", take_version, "/mount/size", "newer program"},
        Refused{"no version", "{}", take_version, "/mount/size", "may not be a job file"}));

TEST(JobReader, ReportsTheFirstOfSeveral) {
    Read in(R"({"a": "x", "b": "y"})");
    Entry entry;
    in.reader.length("a", entry);
    in.reader.length("b", entry);
    EXPECT_EQ(in.refused_at(), "/mount/a");
}

TEST(JobReader, RefusesWhatIsNoObject) {
    Read in("[1]");
    EXPECT_EQ(in.refused_at(), "/mount");
    EXPECT_NE(in.message().find("braces"), std::string::npos);
}

TEST(UnitDirection, ScalesToOne) {
    const auto unit = unit_direction(Direction(0.0, 3.0, -4.0));  // 3-4-5 triangle
    ASSERT_TRUE(unit);
    EXPECT_NEAR((*unit - Direction(0.0, 0.6, -0.8)).norm(), 0.0, 1e-15);
    EXPECT_EQ(unit_direction(*unit), unit) << "a unit vector stays as it is";
}

TEST(UnitDirection, NeedsALength) {
    EXPECT_FALSE(unit_direction(Direction::Zero()));
    EXPECT_FALSE(unit_direction(Direction(std::numeric_limits<double>::quiet_NaN(), 0.0, 0.0)));
    EXPECT_FALSE(unit_direction(Direction(std::numeric_limits<double>::infinity(), 0.0, 0.0)));
}

}  // namespace
}  // namespace sillwright::core::job_file
