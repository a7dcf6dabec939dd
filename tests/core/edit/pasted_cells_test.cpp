#include "core/edit/pasted_cells.h"

#include <gmock/gmock.h>

namespace sillwright::core {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using Lines = std::vector<std::vector<std::string>>;

Lines cells(std::string_view text) {
    const auto read = pasted_cells(text);
    EXPECT_TRUE(read) << (read ? "" : read.error().message);
    return read ? read.value() : Lines{};
}

TEST(PastedCells, ArePartedByTabsOrSemicolons) {
    EXPECT_EQ(cells("a\tb\nc\td"), (Lines{{"a", "b"}, {"c", "d"}}));
    EXPECT_EQ(cells("a;b\nc;d"), (Lines{{"a", "b"}, {"c", "d"}}));
    EXPECT_EQ(cells("a;b\tc"), (Lines{{"a;b", "c"}})) << "where there are tabs a semicolon is text";
    EXPECT_EQ(cells("12,5"), (Lines{{"12,5"}})) << "a comma is a decimal one";
}

TEST(PastedCells, LinesEndAsAnySystemEndsThem) {
    const Lines wanted{{"a", "b"}, {"c", "d"}};
    EXPECT_EQ(cells("a\tb\r\nc\td\r\n"), wanted);
    EXPECT_EQ(cells("a\tb\rc\td\r"), wanted);
    EXPECT_EQ(cells("a\tb\nc\td\n"), wanted);
}

TEST(PastedCells, EmptyOnesCount) {
    EXPECT_EQ(cells("a\t\tb\n\tc\t\n"), (Lines{{"a", "", "b"}, {"", "c", ""}}));
    EXPECT_EQ(cells("a\n\nb"), (Lines{{"a"}, {""}, {"b"}})) << "an empty cell of a single column";
    EXPECT_EQ(cells("a\t"), (Lines{{"a", ""}}));
    EXPECT_THAT(cells(""), IsEmpty());
    EXPECT_EQ(cells("\"\""), (Lines{{""}}));
}

TEST(PastedCells, SpacesAtTheEndsGo) {
    EXPECT_EQ(cells("  38 mm \t\u00a0x\u00a0 "), (Lines{{"38 mm", "x"}})) << "no-break spaces too";
}

TEST(PastedCells, QuotesAsASpreadsheetWritesThem) {
    EXPECT_EQ(cells("\"a\tb\"\tc"), (Lines{{"a\tb", "c"}}));
    EXPECT_EQ(cells("\"1 1/2\"\"\"\t3\n"), (Lines{{"1 1/2\"", "3"}}));
    EXPECT_EQ(cells("\"two\nlines\"\tc"), (Lines{{"two\nlines", "c"}}));
    EXPECT_EQ(cells("1 1/2\"\t3'-4\""), (Lines{{"1 1/2\"", "3'-4\""}})) << "inches that nobody has put in quotes";
}

TEST(PastedCells, AQuoteThatIsNotClosedIsRefused) {
    const auto read = pasted_cells("a\tb\n\"c\td\n");
    ASSERT_FALSE(read);
    EXPECT_THAT(read.error().message, testing::StartsWith("Line 2: a cell begins with a double quote"));
    EXPECT_FALSE(pasted_cells("\"a\"b\tc"));
}

}  // namespace
}  // namespace sillwright::core
