#include "app/desk/book_line.h"

#include <gtest/gtest.h>

#include <QAbstractItemView>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QSignalSpy>
#include <QTest>

#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "tests/app/desk/measured_sill.h"

namespace sillwright::app {
namespace {

using namespace measured_sill;

class BookLineTest : public testing::Test {
protected:
    BookLineTest() {
        open_.open(with_marks(), {});
        line_.resize(800, 120);
        line_.show();
        line_.activateWindow();
        line_.take_focus();
        EXPECT_TRUE(QTest::qWaitForWindowExposed(&line_));
    }
    void type(const QString& text) { QTest::keyClicks(field_, text); }
    void enter() { QTest::keyClick(field_, Qt::Key_Return); }
    QString says() { return line_.findChild<QLabel*>("bookLineSays")->text(); }

    OpenJob open_;
    OpenBook book_{open_};
    BookLine line_{book_};
    QLineEdit* field_ = line_.findChild<QLineEdit*>("bookLine");
};

TEST_F(BookLineTest, TakesOneReadingAfterTheOtherByTheKeyboardAlone) {
    type("A H1 663.8");
    enter();
    type("B H1 1301.7");
    enter();
    ASSERT_EQ(open_.job().book.readings.size(), 2U);
    EXPECT_EQ(open_.job().book.readings[1].points, (std::vector<std::string>{"B", "H1"}));
    EXPECT_EQ(open_.job().book.readings[1].value->typed, "1301.7");
    EXPECT_TRUE(field_->text().isEmpty());
    EXPECT_EQ(QApplication::focusWidget(), field_);
    EXPECT_EQ(open_.history().count(), 2) << "each is a step of its own";
}

TEST_F(BookLineTest, SaysWhatTheLineWillBeTakenAs) {
    type("height A H1 -110");
    EXPECT_TRUE(says().contains("height A → H1")) << says().toStdString();
    EXPECT_TRUE(says().contains("-110")) << says().toStdString();
    EXPECT_TRUE(open_.job().book.readings.empty()) << "not before Enter";
}

TEST_F(BookLineTest, ARefusedLineStaysWithItsColumn) {
    type("A H1 12x4");
    enter();
    EXPECT_TRUE(open_.job().book.readings.empty());
    EXPECT_EQ(field_->text(), "A H1 12x4");
    EXPECT_TRUE(says().contains("Column")) << says().toStdString();
    EXPECT_TRUE(line_.findChild<QLabel*>("bookLineSays")->property("refusal").toBool());
    enter();
    EXPECT_TRUE(open_.job().book.readings.empty());
    field_->clear();
    enter();
    EXPECT_TRUE(open_.job().book.readings.empty()) << "nothing is no reading";
}

TEST_F(BookLineTest, ALikelySlipIsAskedAboutOnce) {
    type("A H1 663.8");
    enter();
    type("B h1 1301.8");
    enter();
    EXPECT_EQ(open_.job().book.readings.size(), 1U) << "h1 is not H1: is it meant?";
    EXPECT_TRUE(says().contains("once more")) << says().toStdString();
    EXPECT_EQ(field_->text(), "B h1 1301.8");
    enter();
    EXPECT_EQ(open_.job().book.readings.size(), 2U);
}

TEST_F(BookLineTest, UpBringsEarlierLinesBack) {
    for (const char* text : {"A H1 663.8", "B H1 1301.7"}) {
        type(text);
        enter();
    }
    type("C");
    field_->setText("C ");
    QTest::keyClick(field_, Qt::Key_Up);
    EXPECT_EQ(field_->text(), "B H1 1301.7");
    QTest::keyClick(field_, Qt::Key_Up);
    QTest::keyClick(field_, Qt::Key_Up);
    EXPECT_EQ(field_->text(), "A H1 663.8");
    QTest::keyClick(field_, Qt::Key_Down);
    QTest::keyClick(field_, Qt::Key_Down);
    EXPECT_EQ(field_->text(), "C ") << "what was begun is not lost";
}

TEST_F(BookLineTest, OffersTheNamesThatAreBegun) {
    open_.apply(core::add_reading(open_.job(), "A \"rear pin\" 400"));
    type("rea");
    auto* offered = QApplication::activePopupWidget();
    ASSERT_NE(offered, nullptr);
    QTest::keyClick(offered, Qt::Key_Down);
    QTest::keyClick(offered, Qt::Key_Return);
    EXPECT_EQ(field_->text(), "\"rear pin\" ");
}

TEST_F(BookLineTest, CorrectsAReadingAndLeavesIt) {
    type("A H1 663.8");
    enter();
    const std::string id = open_.job().book.readings[0].id;
    line_.correct(id);
    EXPECT_EQ(field_->text(), "A H1 663.8");
    EXPECT_TRUE(line_.findChild<QLabel*>("bookLineHead")->text().contains("1"));
    QTest::keyClick(field_, Qt::Key_Escape);
    EXPECT_FALSE(line_.correcting());
    EXPECT_EQ(open_.job().book.readings.size(), 1U);
    line_.correct(id);
    field_->clear();
    type("A H1 636.8");
    enter();
    ASSERT_EQ(open_.job().book.readings.size(), 2U) << "what was written stays";
    EXPECT_FALSE(open_.job().book.readings[0].dropped.empty());
    EXPECT_EQ(open_.job().book.readings[1].value->typed, "636.8");
    EXPECT_FALSE(line_.correcting());
}

TEST_F(BookLineTest, ReadingsAreOfTheSetUpThatIsChosen) {
    auto* set_ups = line_.findChild<QComboBox*>("bookSetUp");
    EXPECT_TRUE(set_ups->isHidden()) << "there is one only";
    for (const char* name : {"wheels", "lift"}) {
        core::survey::SetUp set_up;
        set_up.name = name;
        ASSERT_TRUE(open_.apply(core::set_set_up(open_.job(), {}, set_up)));
    }
    ASSERT_FALSE(set_ups->isHidden());
    set_ups->setCurrentIndex(1);
    type("height A H1 -110");
    enter();
    ASSERT_EQ(open_.job().book.readings.size(), 1U);
    EXPECT_EQ(open_.job().book.readings[0].set_up, "lift");
}

}  // namespace
}  // namespace sillwright::app
