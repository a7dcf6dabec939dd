#include "app/desk/book_files.h"

#include <gtest/gtest.h>

#include <QAction>
#include <QMenu>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QWidget>
#include <fstream>

#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "tests/app/desk/measured_sill.h"

namespace sillwright::app {
namespace {

using namespace measured_sill;

class BookFilesTest : public testing::Test {
protected:
    std::filesystem::path file(const char* name) { return std::filesystem::path(folder_.path().toStdString()) / name; }

    QTemporaryDir folder_;
    OpenJob open_;
    OpenBook book_{open_};
    QWidget over_;
};

TEST_F(BookFilesTest, ABookGoesOutAndComesInAgain) {
    open_.open(with_lines(with_marks(), eight_ties()), {});
    write_book_csv(book_, file("book.csv"));
    open_.open(with_marks(), {});
    read_book_csv(book_, file("book.csv"), &over_);
    ASSERT_EQ(open_.job().book.readings.size(), 8U);
    EXPECT_EQ(open_.job().book.readings[7].points, (std::vector<std::string>{"E", "H2"}));
    EXPECT_EQ(open_.history().count(), 1) << "one step";
}

TEST_F(BookFilesTest, WhatIsNoTableIsSaidAndTheBookStays) {
    std::ofstream(file("shopping.csv")) << "milk\n";
    const QSignalSpy refused(&open_, &OpenJob::refused);
    read_book_csv(book_, file("shopping.csv"), &over_);
    read_book_csv(book_, file("nowhere.csv"), &over_);
    ASSERT_EQ(refused.count(), 2);
    EXPECT_TRUE(refused[0][0].toString().contains("shopping.csv")) << refused[0][0].toString().toStdString();
    EXPECT_TRUE(refused[1][0].toString().contains("nowhere.csv"));
    write_book_csv(book_, file("no such folder") / "book.csv");
    EXPECT_EQ(refused.count(), 3);
    EXPECT_EQ(open_.history().count(), 0);
}

TEST_F(BookFilesTest, TheMenuHasSheetsAndFiles) {
    QMenu menu;
    add_book_file_actions(menu, book_, &over_);
    for (const char* name : {"printBlankSheet", "printBook", "readCsv", "writeCsv"}) {
        EXPECT_NE(menu.findChild<QAction*>(name), nullptr) << name;
    }
}

}  // namespace
}  // namespace sillwright::app
