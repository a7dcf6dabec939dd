#include "core/edit/book_lists.h"

#include <gtest/gtest.h>

#include "core/edit/book_edit.h"

namespace sillwright::core {
namespace {

/// The column of that name.
std::size_t column(BookList list, const std::string& name) {
    const auto& columns = book_columns(list);
    for (std::size_t i = 0; i < columns.size(); ++i) {
        if (columns[i].name == name) {
            return i;
        }
    }
    ADD_FAILURE() << "no column " << name;
    return 0;
}

Job written(Job job, BookList list, std::size_t row, const std::string& name, const std::string& text) {
    const auto edit = write_book_cell(job, list, row, column(list, name), text);
    EXPECT_TRUE(edit) << (edit ? "" : edit.error().message);
    return edit ? edit.value().job : job;
}

Job with_tie() {
    return add_reading({}, "A H1 1473.5").value().job;
}

TEST(BookLists, APointIsWrittenCellByCellAsItIsTyped) {
    Job job = add_book_row(with_tie(), BookList::points).value().job;
    ASSERT_EQ(job.book.points.size(), 1U);
    EXPECT_EQ(job.book.points[0].name, "A") << "a name that stands in the readings";
    job = written(job, BookList::points, 0, "along", "12.50");
    job = written(job, BookList::points, 0, "kind", "mount");
    EXPECT_EQ(job.book.points[0].along->typed, "12.50");
    EXPECT_EQ(job.book.points[0].kind, survey::PointKind::mount);
    EXPECT_EQ(book_cell(job, BookList::points, 0, column(BookList::points, "along")), "12.50");
    job = written(job, BookList::points, 0, "along", "");
    EXPECT_FALSE(job.book.points[0].along) << "empty is not held, never zero";
    job = written(job, BookList::points, 0, "name", "A1");
    EXPECT_EQ(job.book.readings[0].points[0], "A1") << "readings follow";
    EXPECT_TRUE(delete_book_row(job, BookList::points, 0).value().job.book.points.empty());
}

TEST(BookLists, ATapeHasItsClassAndHook) {
    Job job = add_book_row({}, BookList::instruments).value().job;
    job = written(job, BookList::instruments, 0, "class", "II");
    job = written(job, BookList::instruments, 0, "hook", "yes");
    job = written(job, BookList::instruments, 0, "reader's sd", "0.5");
    EXPECT_EQ(job.book.instruments[0].tape_class, survey::TapeClass::ii);
    EXPECT_TRUE(job.book.instruments[0].hook);
    EXPECT_EQ(book_cell(job, BookList::instruments, 0, column(BookList::instruments, "class")), "II");
    job = written(job, BookList::instruments, 0, "class", "");
    EXPECT_FALSE(job.book.instruments[0].tape_class);
}

TEST(BookLists, ASetUpLeansAsItIsTyped) {
    Job job = add_book_row({}, BookList::set_ups).value().job;
    EXPECT_EQ(job.book.set_ups[0].name, "wheels");
    job = written(job, BookList::set_ups, 0, "leans outward", "0.3");
    EXPECT_NEAR(geometry::in_deg(*job.book.set_ups[0].roll), 0.3, 1e-12);
    EXPECT_EQ(add_book_row(job, BookList::set_ups).value().job.book.set_ups[1].name, "lift");
}

TEST(BookLists, WhatIsNoneOfTheWordsIsRefusedWithThem) {
    const Job job = add_book_row({}, BookList::instruments).value().job;
    const auto edit = write_book_cell(job, BookList::instruments, 0, column(BookList::instruments, "kind"), "ruler");
    ASSERT_FALSE(edit);
    EXPECT_NE(edit.error().message.find("calliper"), std::string::npos) << edit.error().message;
    EXPECT_FALSE(write_book_cell(job, BookList::instruments, 0, column(BookList::instruments, "sd"), "wide"));
}

TEST(BookLists, NamesStandInTheOrderInWhichTheyCame) {
    const Job job = add_reading(with_tie(), "A H2 900").value().job;
    EXPECT_EQ(names_in_book(job.book), (std::vector<std::string>{"A", "H1", "H2"}));
}

}  // namespace
}  // namespace sillwright::core
