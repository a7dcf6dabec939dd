#include "core/edit/book_csv_edit.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

TEST(BookCsvEdit, BringsReadingsWithTheSetUpsThatAreNew) {
    const Job empty;
    const auto csv =
        survey::book_of_csv("from;to;value;set-up\nA;H1;663,8;lift\nB;H1;1301,8;lift\n", empty.book, empty.unit);
    ASSERT_TRUE(csv) << csv.error().message;
    const auto edit = add_csv(empty, csv.value());
    ASSERT_TRUE(edit) << edit.error().message;
    const survey::Book& book = edit.value().job.book;
    ASSERT_EQ(book.readings.size(), 2U);
    EXPECT_NE(book.readings[0].id, book.readings[1].id);
    EXPECT_DOUBLE_EQ(geometry::in_mm(book.readings[0].value->value), 663.8);
    ASSERT_FALSE(book.set_ups.empty());
    EXPECT_EQ(book.readings[1].set_up, "lift");
}

}  // namespace
}  // namespace sillwright::core
