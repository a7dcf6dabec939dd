#include "core/survey/book_csv.h"

#include <gmock/gmock.h>

#include "core/survey/reading_line.h"

namespace sillwright::core::survey {
namespace {

using geometry::in_deg;
using geometry::in_mm;
using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

CsvBook taken(const std::string& text, const Book& book = {}, BareUnit unit = BareUnit::mm) {
    const auto csv = book_of_csv(text, book, unit);
    EXPECT_TRUE(csv) << (csv ? "" : csv.error().message);
    return csv ? csv.value() : CsvBook{};
}

std::string refusal(const std::string& text) {
    const auto csv = book_of_csv(text, {}, BareUnit::mm);
    EXPECT_FALSE(csv) << text;
    return csv ? "" : csv.error().message;
}

std::vector<std::string> lines(const CsvBook& csv, BareUnit unit = BareUnit::mm) {
    std::vector<std::string> all;
    for (const Reading& reading : csv.readings) {
        all.push_back(line_of_reading(reading, unit));
    }
    return all;
}

std::vector<std::string> refused(const CsvBook& csv) {
    std::vector<std::string> all;
    for (const CsvRefusal& refusal : csv.refused) {
        all.push_back(words_of(refusal));
    }
    return all;
}

std::vector<std::string> remarks(const CsvBook& csv) {
    std::vector<std::string> all;
    for (const CsvRemark& remark : csv.remarks) {
        all.push_back(words_of(remark));
    }
    return all;
}

TEST(BookOfCsv, FindsColumnsByTheirHeaderInAnyOrder) {
    const CsvBook csv = taken("Value,TO,from,kind\n1473.5,H1,E,\n-212,H1,A,height\n");
    EXPECT_THAT(lines(csv), ElementsAre("E H1 1473.5", "height A H1 -212"));
    EXPECT_THAT(csv.rows, ElementsAre(2, 3));
    EXPECT_THAT(csv.refused, IsEmpty());
    EXPECT_THAT(csv.remarks, IsEmpty());
}

TEST(BookOfCsv, TellsSeparatorsAndDecimalCommasApart) {
    for (const char separator : {',', ';', '\t', '|'}) {
        const std::string s(1, separator);
        const CsvBook csv = taken("from" + s + "to" + s + "value\nE" + s + "H1" + s + "\"1473,5\"\n");
        EXPECT_EQ(csv.separator, separator);
        EXPECT_TRUE(csv.decimal_comma);
        ASSERT_EQ(csv.readings.size(), 1U);
        EXPECT_EQ(in_mm(csv.readings[0].value->value), 1473.5);
        EXPECT_EQ(csv.readings[0].value->typed, "1473,5");
    }
    EXPECT_THAT(lines(taken("sep=;\nfrom;to;value\nE;H1;5\n")), ElementsAre("E H1 5"));
}

TEST(BookOfCsv, ReadsThreeDecimalsWhereTheFileHasDecimalCommas) {
    const CsvBook csv = taken("from;to;value\nE;H1;1473,5\nE;H2;1,250\n");
    EXPECT_EQ(in_mm(csv.readings.at(1).value->value), 1.25);
    EXPECT_THAT(remarks(csv), ElementsAre(AllOf(StartsWith("Row 3, column 3 (value):"), HasSubstr("1.250"))));
    // With points elsewhere it may be thousands: nobody but the person can tell.
    const CsvBook unsure = taken("from;to;value\nE;H1;1473.5\nE;H2;1,250\n");
    EXPECT_THAT(refused(unsure),
                ElementsAre(AllOf(StartsWith("Row 3, column 3 (value):"), HasSubstr("1250 or 1.250"))));
}

TEST(BookOfCsv, TakesUnitsFromTheHeaderTheRowOrTheCell) {
    const CsvBook csv = taken("from,to,value (in),unit\nE,H1,16 1/4,\nE,H2,412.75,mm\nE,H3,41.275 cm,\nE,H4,16+1/4,\n");
    ASSERT_EQ(csv.readings.size(), 4U) << testing::PrintToString(refused(csv));
    for (const Reading& reading : csv.readings) {
        EXPECT_DOUBLE_EQ(in_mm(reading.value->value), 412.75);  // 16.25 * 25.4
    }
    EXPECT_EQ(csv.readings[0].value->typed, "16 1/4 in");
    EXPECT_THAT(remarks(csv), ElementsAre(AllOf(StartsWith("Row 3, column 3"), HasSubstr("is in mm")),
                                          AllOf(StartsWith("Row 4, column 3"), HasSubstr("is in cm"))));
}

TEST(BookOfCsv, RemarksMixedUnitsRowByRow) {
    const CsvBook csv = taken("from,to,value\nE,H1,412\nE,H2,\"16 1/4\"\"\"\nE,H3,2 ft 3 in\nE,H4,300\n");
    EXPECT_EQ(csv.readings.size(), 4U);
    EXPECT_THAT(remarks(csv), ElementsAre(AllOf(StartsWith("Row 3, column 3 (value):"), HasSubstr("is in inches")),
                                          AllOf(StartsWith("Row 4, column 3 (value):"), HasSubstr("is in feet"))));
}

TEST(BookOfCsv, NamesEveryRefusedRowAndLosesNothing) {
    const std::string text =
        "kind;from;to;third;value;up\n"
        "tie;E;H1;;1473.5;\n"
        "tie;E;E;;1473.5;\n"
        "tie;E;;;1473.5;\n"
        "tie;E;H1;;-5;\n"
        "tie;E;H1;;;\n"
        "tie;E;H1;;14x3;\n"
        "knot;E;H1;;14;\n"
        "tie;E;H1;;14;3\n"
        "tie;E;H1;;14;;;spare\n"
        "angle;A;B;C;181;\n"
        "offset;A;B;C;12;\n"
        "tie;\"E;H1;;14;\n"
        "gauge;A;P1;;4;\n";
    const CsvBook csv = taken(text);
    EXPECT_THAT(lines(csv), ElementsAre("E H1 1473.5", "offset A B C 12"));
    EXPECT_THAT(refused(csv), ElementsAre(AllOf(StartsWith("Row 3, column 3 (to):"), HasSubstr("twice")),
                                          AllOf(StartsWith("Row 4, column 3 (to):"), HasSubstr("names 2 points")),
                                          AllOf(StartsWith("Row 5, column 5 (value):"), HasSubstr("below zero")),
                                          AllOf(StartsWith("Row 6, column 5 (value):"), HasSubstr("missing")),
                                          AllOf(StartsWith("Row 7, column 5 (value):"), HasSubstr("not a unit")),
                                          AllOf(StartsWith("Row 8, column 1 (kind):"), HasSubstr("gauge")),
                                          AllOf(StartsWith("Row 9, column 6 (up):"), HasSubstr("only a gauge")),
                                          AllOf(StartsWith("Row 10, column 8:"), HasSubstr("8 cells")),
                                          AllOf(StartsWith("Row 11, column 5 (value):"), HasSubstr("below 180")),
                                          AllOf(StartsWith("Row 13, column 1 (kind):"), HasSubstr("does not end")),
                                          AllOf(StartsWith("Row 14, column 5 (value):"), HasSubstr("two lengths"))));
    // What came back is taken again, row by row, once it is mended.
    std::string again = refused_csv(csv);
    EXPECT_THAT(again, StartsWith("kind;from;to;third;value;up\ntie;E;E;;1473.5;\n"));
    EXPECT_EQ(taken(again).refused.size(), csv.refused.size());
    again.replace(again.find("tie;E;E"), 7, "tie;E;B");
    EXPECT_THAT(lines(taken(again)), ElementsAre("E B 1473.5"));
}

TEST(BookOfCsv, RefusesAFileThatIsNoBookWithRowAndColumn) {
    EXPECT_THAT(refusal(""), AllOf(StartsWith("Row 1, column 1:"), HasSubstr("from,to,value")));
    EXPECT_THAT(refusal("from,to,value\n"), StartsWith("Row 2, column 1:"));
    EXPECT_THAT(refusal("E,H1,1473.5\n"), AllOf(StartsWith("Row 1, column 1:"), HasSubstr("E,H1,1473.5")));
    EXPECT_THAT(refusal("from,to,Value,reading\nE,H1,1,2\n"),
                AllOf(StartsWith("Row 1, column 4:"), HasSubstr("twice")));
    EXPECT_THAT(refusal("from,to,value\nE,H\xE4,1\n"), StartsWith("Row 2, column 2:"));
}

TEST(BookOfCsv, AsksAboutNamesAndRowsThatMayBeTheSame) {
    Book book;
    book.readings = {reading_of_line("E H1 1473.5", book, BareUnit::mm).value()};
    const CsvBook csv = taken("from,to,value\nE,h1,1473\nE,H1,1473.5\nE,H2,900\nE,H2,900\n", book);
    EXPECT_EQ(csv.readings.size(), 4U);
    EXPECT_THAT(remarks(csv), ElementsAre(AllOf(StartsWith("Row 2,"), HasSubstr("the book has H1")),
                                          AllOf(StartsWith("Row 3,"), HasSubstr("as reading 1")),
                                          AllOf(StartsWith("Row 5,"), HasSubstr("as row 4"))));
}

TEST(BookOfCsv, BringsNewSetUpsAndInstruments) {
    const CsvBook csv = taken("from,to,value,set-up,instrument,colour\nE,H1,5,lift,steel tape,red\nE,H2,5,Lift,,\n");
    EXPECT_THAT(csv.new_set_ups, ElementsAre("lift"));
    EXPECT_THAT(csv.new_instruments, ElementsAre("steel tape"));
    EXPECT_THAT(refused(csv), ElementsAre(AllOf(StartsWith("Row 3, column 4 (set-up):"), HasSubstr("write lift"))));
    EXPECT_THAT(remarks(csv), ElementsAre(AllOf(StartsWith("Row 1, column 6 (colour):"), HasSubstr("left out")),
                                          AllOf(StartsWith("Row 2, column 4 (set-up):"), HasSubstr("new")),
                                          AllOf(StartsWith("Row 2, column 5 (instrument):"), HasSubstr("new"))));
}

TEST(CsvOfBook, ReadsBackAsItWasTyped) {
    Book book;
    book.set_ups = {{"wheels", true, {}, {}, {}, {}}, {"on the lift", false, {}, {}, {}, {}}};
    Instrument tape;
    tape.name = "steel tape, 5 m";
    book.instruments = {tape};
    for (const char* line :
         {"E H1 16 1/4\" @on the lift by \"steel tape, 5 m\" sd 0.8 # under the seam, \"low\"", "height A H1 -212,5",
          "offset S1 S2 P3 12", "plane A B C H1 41.25cm", "gauge A P1 412+3; -188 trace 2", "gap D1 5.2",
          "gap D1 \"rear pin\" 5.2", "angle A B C 62.5 sd 0.5", "slope A B -1.5", "along A B 2 ft 3 in"}) {
        const auto reading = reading_of_line(line, book, BareUnit::mm);
        ASSERT_TRUE(reading) << line << ": " << reading.error().message;
        book.readings.push_back(reading.value());
    }
    book.readings[1].dropped = "written as height A H1 -221, corrected";
    const CsvBook again = taken(csv_of_book(book, BareUnit::mm), {});
    EXPECT_THAT(again.refused, IsEmpty());
    ASSERT_EQ(again.readings.size(), book.readings.size());
    for (std::size_t i = 0; i < book.readings.size(); ++i) {
        Reading reading = again.readings[i];
        reading.id = book.readings[i].id;
        EXPECT_EQ(reading, book.readings[i]) << i;
    }
}

}  // namespace
}  // namespace sillwright::core::survey
