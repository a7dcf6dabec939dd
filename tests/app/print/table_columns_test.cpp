#include "app/print/table_columns.h"

#include <gtest/gtest.h>

#include <numeric>

#include "app/print/page_words.h"

namespace sillwright::app::print {
namespace {

double whole(const TableColumns& columns) {
    return std::accumulate(columns.widths.begin(), columns.widths.end(), 0.0);
}

TEST(TableColumns, AreAsWideAsTheirWordsWhereThereIsRoom) {
    const core::Grid grid{{"name", "mm"}, {{"H1", "12.5"}, {"a longer name", "−3"}}, {}};
    const TableColumns columns = table_columns(grid, page_font(8.5), page_font(8.5, true), 18000.0, 240.0);
    EXPECT_LT(whole(columns), 9000.0);
    EXPECT_GT(columns.widths[0], width_of(QStringLiteral("a longer name"), page_font(8.5)));
    EXPECT_FALSE(columns.right[0]);
    EXPECT_TRUE(columns.right[1]);
}

TEST(TableColumns, ShareTheWidthAndBreakWhatIsTooWide) {
    const std::string remark =
        "many words that need far more room than one line of a page has, whichever way it lies, and some more";
    const core::Grid grid{
        {"name", "remark", "other"}, {{"H1", remark + remark, remark}, {"H2", std::string(300, 'x'), ""}}, {}};
    const TableColumns columns = table_columns(grid, page_font(8.5), page_font(8.5, true), 18000.0, 240.0);
    EXPECT_LE(whole(columns), 18000.0 + 1.0);
    EXPECT_GT(columns.widths[0], width_of(QStringLiteral("name"), page_font(8.5, true)));
    EXPECT_GT(columns.widths[1], columns.widths[0]);
    for (const QString& line : wrapped(QString(300, u'x'), page_font(8.5), columns.widths[1] - 240.0)) {
        EXPECT_LE(width_of(line, page_font(8.5)), columns.widths[1]);
    }
}

TEST(TableColumns, LeaveRoomToWriteInto) {
    const core::Grid grid{{"a", "b"}, {{"1", ""}}, {1}};
    const TableColumns columns = table_columns(grid, page_font(8.5), page_font(8.5, true), 18000.0, 240.0);
    EXPECT_GE(columns.widths[1], 2000.0);
}

}  // namespace
}  // namespace sillwright::app::print
