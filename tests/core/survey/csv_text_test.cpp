#include "core/survey/csv_text.h"

#include <gmock/gmock.h>

namespace sillwright::core::survey {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

TEST(CsvRecords, CutAsRfc4180Says) {
    // RFC 4180, section 2, items 5 to 7: quotation marks, line ends and separators in quoted cells.
    const auto records = csv_records("a,\"b,c\",\"d\"\"e\"\r\n\"f\ng\",h,\r\n", ',');
    ASSERT_EQ(records.size(), 2U);
    EXPECT_THAT(records[0].cells, ElementsAre("a", "b,c", "d\"e"));
    EXPECT_THAT(records[1].cells, ElementsAre("f\ng", "h", ""));
    EXPECT_EQ(records[0].text, "a,\"b,c\",\"d\"\"e\"");
    EXPECT_EQ(records[1].row, 2U);
}

TEST(CsvRecords, LeaveEmptyRowsOutButCountThem) {
    const auto records = csv_records("a;b\n\n;\nc;16 1/4\"\rd;e", ';');
    ASSERT_EQ(records.size(), 3U);
    EXPECT_EQ(records[1].row, 4U);
    EXPECT_THAT(records[1].cells, ElementsAre("c", "16 1/4\""));
    EXPECT_THAT(records[2].cells, ElementsAre("d", "e"));
}

TEST(CsvRecords, AnOpenCellTakesNoMoreThanItsRow) {
    const auto records = csv_records("a,\"b\nc,d\n", ',');
    ASSERT_EQ(records.size(), 2U);
    EXPECT_TRUE(records[0].open);
    EXPECT_EQ(records[0].text, "a,\"b");
    EXPECT_THAT(records[1].cells, ElementsAre("c", "d"));
}

TEST(CsvCell, ReadsBack) {
    for (const char* text : {"plain", "16 1/4\"", "a,b", "two\nlines", " edge", "\"\""}) {
        const auto records = csv_records(csv_cell(text, ',') + ",end", ',');
        ASSERT_EQ(records.size(), 1U);
        EXPECT_THAT(records[0].cells, ElementsAre(text, "end"));
    }
}

TEST(CsvCharacters, TakeUtf8WithAMarkOrWithout) {
    EXPECT_EQ(csv_characters("\xEF\xBB\xBFh\xC3\xB6he").value(), "h\xC3\xB6he");
    EXPECT_EQ(csv_characters("h\xC3\xB6he").value(), "h\xC3\xB6he");
}

TEST(CsvCharacters, TellWhereAnotherEncodingBegins) {
    // "Tür" in Windows-1252: 0xFC alone is no UTF-8 (RFC 3629, section 3).
    const auto refused = csv_characters("from;to;value;note\nE;H1;1473;seam\nE;H2;900;T\xFCr\n");
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message,
                testing::AllOf(testing::StartsWith("Row 3, column 4:"), HasSubstr("0xFC"), HasSubstr("UTF-8")));
    for (const std::string& bytes : {std::string("\xFF\xFE"
                                                 "f\0r\0",
                                                 6),
                                     std::string("\xFE\xFF\0f\0r", 6), std::string("f\0r\0o\0m\0", 8)}) {
        EXPECT_THAT(csv_characters(bytes).error().message, HasSubstr("UTF-16"));
    }
    for (const char* overlong : {"\xC0\x80", "\xE0\x80\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x82"}) {
        EXPECT_FALSE(csv_characters(overlong)) << overlong;
    }
}

}  // namespace
}  // namespace sillwright::core::survey
