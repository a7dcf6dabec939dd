#include "app/desk/csv_dialog.h"

#include <gtest/gtest.h>

#include <QLabel>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTest>

namespace sillwright::app {
namespace {

class CsvDialogTest : public testing::Test {
protected:
    core::Job job_;
    core::survey::CsvBook csv_ =
        core::survey::book_of_csv("from,to,value\nA,H1,663.8\nB,,1301.8\nC,H1,-461\n", job_.book, job_.unit).value();
    CsvDialog dialog_{job_, csv_};
    QPlainTextEdit& rows_ = *dialog_.findChild<QPlainTextEdit*>("csvRows");
};

TEST_F(CsvDialogTest, RefusedRowsAreMendedInPlaceAndTriedAgain) {
    ASSERT_EQ(csv_.refused.size(), 2U);
    ASSERT_TRUE(dialog_.edit());
    EXPECT_EQ(dialog_.edit()->job.book.readings.size(), 1U) << "good rows are taken, whatever the others are";
    EXPECT_TRUE(dialog_.findChild<QLabel*>("csvWhy")->text().contains("Row 3"))
        << dialog_.findChild<QLabel*>("csvWhy")->text().toStdString();
    QString text = rows_.toPlainText();
    rows_.setPlainText(text.replace("B,,", "B,H1,"));
    dialog_.findChild<QPushButton*>("tryRowsAgain")->click();
    EXPECT_EQ(dialog_.edit()->job.book.readings.size(), 2U);
    EXPECT_FALSE(rows_.toPlainText().contains("B,H1")) << "it is taken";
    EXPECT_TRUE(rows_.toPlainText().contains("-461"));
    text = rows_.toPlainText();
    rows_.setPlainText(text.replace("-461", "461.1"));
    dialog_.findChild<QPushButton*>("tryRowsAgain")->click();
    EXPECT_EQ(dialog_.edit()->job.book.readings.size(), 3U);
    EXPECT_TRUE(rows_.isHidden());
}

TEST_F(CsvDialogTest, WhatCannotBeReadAtAllStays) {
    rows_.setPlainText("nothing of the kind");
    dialog_.findChild<QPushButton*>("tryRowsAgain")->click();
    EXPECT_EQ(rows_.toPlainText(), "nothing of the kind");
    EXPECT_FALSE(dialog_.findChild<QLabel*>("csvWhy")->text().isEmpty());
    EXPECT_EQ(dialog_.edit()->job.book.readings.size(), 1U);
}

}  // namespace
}  // namespace sillwright::app
