#include "core/csv_line.h"

#include <gtest/gtest.h>

#include "geometry/units.h"

namespace sillwright::core {
namespace {

// RFC 4180: 1 a line ends in CR LF; 6 fields with commas, quotes or line ends are quoted; 7 a quote is doubled.
TEST(CsvLine, FieldsAreQuotedWhereTheStandardAsksForIt) {
    CsvLine line;
    line.add("plain words");
    line.add("H1, \"front\"");
    line.add("two\nlines");
    EXPECT_EQ(line.line(), "plain words,\"H1, \"\"front\"\"\",\"two\nlines\"\r\n");
}

TEST(CsvLine, NumbersKeepEveryDigitAndWhatIsNotMeasuredIsEmpty) {
    CsvLine line;
    line.add(0.1);
    line.add(std::optional<Entry>());
    line.add(std::optional<Entry>({geometry::millimetres(25.5), "25.5"}));
    line.add_nothing();
    EXPECT_EQ(line.line(), "0.1,,25.5,\r\n");
}

TEST(CsvLine, AnEmptyFirstFieldIsAField) {
    CsvLine line;
    line.add("");
    line.add("b");
    EXPECT_EQ(line.line(), ",b\r\n");
}

}  // namespace
}  // namespace sillwright::core
