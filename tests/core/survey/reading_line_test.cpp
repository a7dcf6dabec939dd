#include "core/survey/reading_line.h"

#include <gmock/gmock.h>

#include <random>

namespace sillwright::core::survey {
namespace {

using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Book two_set_ups() {
    Book book;
    book.set_ups = {{"wheels", true, {}, {}, {}, {}}, {"on the lift", false, {}, {}, {}, {}}};
    Instrument tape;
    tape.name = "steel tape";
    book.instruments = {tape};
    return book;
}

Reading read(const std::string& line, BareUnit unit = BareUnit::mm) {
    const auto reading = reading_of_line(line, two_set_ups(), unit);
    EXPECT_TRUE(reading.has_value()) << line << ": " << (reading ? "" : reading.error().message);
    return reading ? reading.value() : Reading{};
}

std::string refusal(const std::string& line, BareUnit unit = BareUnit::mm) {
    const auto reading = reading_of_line(line, two_set_ups(), unit);
    EXPECT_FALSE(reading.has_value()) << line;
    return reading ? "" : reading.error().message;
}

TEST(ReadingOfLine, TakesATieWithoutItsKind) {
    const Reading tie = read("E H1 1473.5");
    EXPECT_EQ(tie.kind, ReadingKind::tie);
    EXPECT_THAT(tie.points, ElementsAre("E", "H1"));
    ASSERT_TRUE(tie.value);
    EXPECT_EQ(in_mm(tie.value->value), 1473.5);
    EXPECT_EQ(tie.value->typed, "1473.5");
    EXPECT_EQ(tie.id, "r1");
    EXPECT_EQ(read("tie E H1 1473.5").kind, ReadingKind::tie);
    EXPECT_EQ(read("Tape E H1 1473.5").kind, ReadingKind::tie);
}

TEST(ReadingOfLine, TakesEveryKindAsItsExampleSays) {
    for (const ReadingKind kind : {ReadingKind::tie, ReadingKind::height, ReadingKind::offset, ReadingKind::plane,
                                   ReadingKind::along, ReadingKind::out, ReadingKind::up, ReadingKind::gauge,
                                   ReadingKind::gap, ReadingKind::depth, ReadingKind::angle, ReadingKind::slope}) {
        const Reading reading = read(example_line(kind));
        EXPECT_EQ(reading.kind, kind);
        EXPECT_GE(reading.points.size(), points_in_line(kind).least);
        EXPECT_LE(reading.points.size(), points_in_line(kind).most);
    }
}

TEST(ReadingOfLine, TakesLengthsAsTheyAreTyped) {
    EXPECT_DOUBLE_EQ(in_mm(read("E H1 16 1/4\"").value->value), 412.75);  // 16.25 * 25.4
    EXPECT_DOUBLE_EQ(in_mm(read("E H1 1' 4 1/4\"").value->value), 412.75);
    EXPECT_DOUBLE_EQ(in_mm(read("E H1 41.25cm").value->value), 412.5);
    EXPECT_DOUBLE_EQ(in_mm(read("E H1 412+3").value->value), 415.0);
    EXPECT_DOUBLE_EQ(in_mm(read("E H1 1473,5").value->value), 1473.5);
    EXPECT_DOUBLE_EQ(in_mm(read("E H1 3 1/2", BareUnit::in).value->value), 88.9);
    EXPECT_EQ(read("E H1 16 1/4\" # hook").value->typed, "16 1/4\"");
    EXPECT_DOUBLE_EQ(in_mm(read("height A H1 -212").value->value), -212.0);
}

TEST(ReadingOfLine, PartsAGaugesTwoLengths) {
    const auto both = [](const std::string& line, BareUnit unit = BareUnit::mm) {
        const Reading reading = read(line, unit);
        return std::vector<std::string>{reading.value->typed, reading.up->typed};
    };
    EXPECT_THAT(both("gauge A P1 412 188"), ElementsAre("412", "188"));
    EXPECT_THAT(both("gauge A P1 -4.5 188 trace 2"), ElementsAre("-4.5", "188"));
    EXPECT_THAT(both("gauge A P1 16 1/4\" 7 3/8\""), ElementsAre("16 1/4\"", "7 3/8\""));
    EXPECT_THAT(both("gauge A P1 16 7 3/8", BareUnit::in), ElementsAre("16", "7 3/8"));
    EXPECT_THAT(both("gauge A P1 2 ft 3 in 4 in"), ElementsAre("2 ft 3 in", "4 in"));
    EXPECT_THAT(both("gauge A P1 412; 188"), ElementsAre("412", "188"));
    EXPECT_EQ(read("gauge A P1 4 1 trace 2").trace, "2");
    EXPECT_THAT(refusal("gauge A P1 412"), HasSubstr("two"));
}

TEST(ReadingOfLine, TakesOnePointOrTwoOfAGap) {
    EXPECT_THAT(read("gap D1 5.2").points, ElementsAre("D1"));
    EXPECT_THAT(read("gap D1 D2 5.2").points, ElementsAre("D1", "D2"));
    EXPECT_EQ(read("gap D1 3 1/2\"").value->typed, "3 1/2\"");
    EXPECT_THAT(read("gap D1 \"3\" 1/2\"").points, ElementsAre("D1", "3"));
    EXPECT_THAT(read("gap 1 2 5.2").points, ElementsAre("1", "2"));
}

TEST(ReadingOfLine, TakesNamesInQuotationMarks) {
    EXPECT_THAT(read("\"front door lower pin\" \"up\" 300").points, ElementsAre("front door lower pin", "up"));
    EXPECT_THAT(read("\"6\"\" mark\" H1 300").points, ElementsAre("6\" mark", "H1"));
}

TEST(ReadingOfLine, TakesTheTailInAnyOrder) {
    const Reading reading = read("E H1 1473.5 sd 0.8 @on the lift by steel tape # under the seam, #2");
    EXPECT_EQ(reading.set_up, "on the lift");
    EXPECT_EQ(reading.instrument, "steel tape");
    ASSERT_TRUE(reading.sd);
    EXPECT_EQ(in_mm(reading.sd->value), 0.8);
    EXPECT_EQ(reading.note, "under the seam, #2");
    EXPECT_EQ(reading.value->typed, "1473.5");
    const Reading angle = read("angle A B C 62.5° sd 0.25 @\"on the lift\"");
    ASSERT_TRUE(angle.angle && angle.angle_sd);
    EXPECT_DOUBLE_EQ(in_deg(*angle.angle), 62.5);
    EXPECT_DOUBLE_EQ(in_deg(*angle.angle_sd), 0.25);
    EXPECT_FALSE(angle.sd);
}

TEST(ReadingOfLine, TakesTheSetUpThatIsWorkedInUnlessAnotherIsNamed) {
    const Book book = two_set_ups();
    EXPECT_EQ(reading_of_line("E H1 5", book, BareUnit::mm, "on the lift").value().set_up, "on the lift");
    EXPECT_EQ(reading_of_line("E H1 5 @wheels", book, BareUnit::mm, "on the lift").value().set_up, "wheels");
}

struct Refused {
    const char* line;
    const char* column;
    const char* words;
};

TEST(ReadingOfLine, SaysWhereItIsWrongAndWhatWouldBeRight) {
    const Refused cases[] = {
        {"", "Column 1:", "E H1 1473.5"},
        {"# only a note", "Column 1:", "E H1 1473.5"},
        {"E", "Column 2:", "names two points"},
        {"E H1", "Column 5:", "the reading is missing"},
        {"height A", "Column 9:", "height A H1 -212"},
        {"Out H1 300", "Column 11:", "the reading is missing"},
        {"out 300", "Column 8:", "called \"out\""},
        {"E E 1473.5", "Column 3:", "E stands twice"},
        {"E H1 -1473.5", "Column 6:", "height E H1 -1473.5"},
        {"E H1 0", "Column 6:", "tie of zero"},
        {"gap D1 -2", "Column 8:", "below zero"},
        {"E H1 H2 1473.5", "Column 6:", "one name too many"},
        {"E, H1, 1473.5", "Column 1:", "parted by spaces"},
        {"E H1 14x3", "Column 8:", "\"x\" is not a unit"},
        {"\"\u00C4\" H1 14x3", "Column 10:", "not a unit"},  // columns are characters, not bytes
        {"E H1 1473.5 @lift", "Column 13:", "write @wheels or @on the lift"},
        {"E H1 1473.5 by rule", "Column 16:", "write by steel tape"},
        {"E H1 1473.5 sd", "Column 13:", "number is missing"},
        {"E H1 1473.5 sd 0", "Column 6:", "not above zero"},
        {"E H1 1473.5 sd 1 sd 2", "Column 18:", "twice"},
        {"E H1 5 trace 2", "Column 8:", "only a gauge"},
        {"angle A B C 180", "Column 13:", "below 180"},
        {"angle A B C many", "Column 13:", "not an angle"},
        {"slope A B 95", "Column 11:", "below 90"},
        {"\"rear pin H1 300", "Column 1:", "does not end"},
    };
    for (const Refused& c : cases) {
        EXPECT_THAT(refusal(c.line), testing::AllOf(testing::StartsWith(c.column), HasSubstr(c.words))) << c.line;
    }
    EXPECT_THAT(reading_of_line("E H1 5 @lift", {}, BareUnit::mm).error().message, HasSubstr("add the set-up first"));
}

TEST(LineOfReading, ReadsBackAsTheSameReading) {
    const Book book = two_set_ups();
    std::mt19937 random(4);
    const auto below = [&](std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random); };
    const std::vector<std::string> names{"A",   "H1",  "up", "3",   "rear pin", "@x", "#1",
                                         "6\"", "T/2", "by", "a,b", "\u00C4",   "-5", "tie"};
    const std::vector<std::string> lengths{"412", "16 1/4\"", "1' 4 1/4\"", "41.25cm", "412+3", "7,25"};
    for (int i = 0; i < 2000; ++i) {
        Reading reading;
        reading.id = "r1";
        reading.kind = static_cast<ReadingKind>(below(12));
        const PointCount count = points_in_line(reading.kind);
        const std::size_t points = count.least + below(count.most - count.least + 1);
        while (reading.points.size() < points) {
            const std::string& name = names[below(names.size())];
            if (std::find(reading.points.begin(), reading.points.end(), name) == reading.points.end()) {
                reading.points.push_back(name);
            }
        }
        const auto length = [&] {
            const std::string& text = lengths[below(lengths.size())];
            return reading_of_line("tie A B " + text, book, BareUnit::mm).value().value;
        };
        if (reading.kind == ReadingKind::angle || reading.kind == ReadingKind::slope) {
            reading.angle = degrees(static_cast<double>(1 + below(800)) / 10.0);
            reading.angle_sd = below(2) == 0 ? std::nullopt : std::optional(degrees(0.3));
        } else {
            reading.value = length();
            reading.sd = below(2) == 0 ? std::nullopt : length();
        }
        if (reading.kind == ReadingKind::gauge) {
            reading.up = length();
            reading.trace = below(2) == 0 ? "" : names[below(names.size())];
        }
        reading.set_up = below(2) == 0 ? "" : "on the lift";
        reading.instrument = below(2) == 0 ? "" : "steel tape";
        reading.note = below(2) == 0 ? "" : "note, by \"hand\" @noon # twice";
        const std::string line = line_of_reading(reading, BareUnit::mm);
        const auto again = reading_of_line(line, book, BareUnit::mm);
        ASSERT_TRUE(again.has_value()) << line << ": " << again.error().message;
        EXPECT_EQ(again.value(), reading) << line;
    }
}

TEST(RemarksOn, AskAboutNamesThatAreEasilyMixedUp) {
    Book book = two_set_ups();
    book.readings = {read("E H1 1473.5"), read("E \"door pin\" 300")};
    EXPECT_THAT(remarks_on(read("A h1 5"), book, BareUnit::mm), ElementsAre(HasSubstr("the book has H1")));
    EXPECT_THAT(remarks_on(read("A Door-Pin 5"), book, BareUnit::mm), ElementsAre(HasSubstr("the book has door pin")));
    EXPECT_THAT(remarks_on(read("A H2 5"), book, BareUnit::mm), IsEmpty());
}

TEST(RemarksOn, AskAboutALineThatStandsThereAlready) {
    Book book;
    book.readings = {read("E H1 1473.5")};
    Reading again = read("E H1 1473.5");
    again.id = next_reading_id(book);
    EXPECT_EQ(again.id, "r2");
    EXPECT_THAT(remarks_on(again, book, BareUnit::mm), ElementsAre(HasSubstr("as reading 1: E H1 1473.5")));
    Reading other = read("E H1 1474");
    other.id = "r2";
    EXPECT_THAT(remarks_on(other, book, BareUnit::mm), IsEmpty());
}

}  // namespace
}  // namespace sillwright::core::survey
