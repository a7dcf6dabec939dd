#include "app/desk/measure_desk.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTabBar>
#include <QTableView>
#include <QTest>

#include "app/desk/book_list_model.h"
#include "app/desk/book_model.h"
#include "app/desk/focus.h"
#include "app/desk/matters_desk.h"
#include "app/desk/network_desk.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/drawings/network_drawing.h"
#include "tests/app/desk/measured_sill.h"

namespace sillwright::app {
namespace {

using namespace measured_sill;

class MeasureDeskTest : public testing::Test {
protected:
    MeasureDeskTest() {
        QObject::connect(&matters_, &MattersDesk::drop_wanted, &desk_, &MeasureDesk::drop);
        QObject::connect(&matters_, &MattersDesk::correct_wanted, &desk_, &MeasureDesk::correct);
        desk_.resize(840, 680);
        matters_.resize(360, 330);
        desk_.show();
        matters_.show();
        desk_.activateWindow();
    }
    template <class T>
    T& child(const char* name) {
        T* found = desk_.findChild<T*>(name);
        found = found == nullptr ? matters_.findChild<T*>(name) : found;
        EXPECT_NE(found, nullptr) << name;
        return *found;
    }
    void press(const char* name) {
        auto& button = child<QPushButton>(name);
        ASSERT_TRUE(button.isVisible() && button.isEnabled()) << name;
        QTest::mouseClick(&button, Qt::LeftButton);
    }
    void open(core::Job job) {
        open_.open(std::move(job), {});
        ASSERT_TRUE(QTest::qWaitFor([this] { return !book_.computing(); }, 60'000));
    }
    bool settle() {
        return QTest::qWaitFor([this] { return !book_.computing(); }, 60'000);
    }

    OpenJob open_;
    OpenBook book_{open_};
    Focus focus_;
    MeasureDesk desk_{book_, focus_};
    MattersDesk matters_{book_, focus_};
};

TEST_F(MeasureDeskTest, AnEmptyBookSaysHowToBegin) {
    open({});
    EXPECT_TRUE(child<QLabel>("bookBeginning").isVisible());
    EXPECT_TRUE(child<QLabel>("bookBeginning").text().contains("A H1 1473.5"));
    EXPECT_TRUE(child<QLineEdit>("bookLine").isVisible());
    QTest::keyClicks(&child<QLineEdit>("bookLine"), "A H1 663.8");
    QTest::keyClick(&child<QLineEdit>("bookLine"), Qt::Key_Return);
    EXPECT_FALSE(child<QLabel>("bookBeginning").isVisible());
    EXPECT_TRUE(child<QTableView>("bookTable").isVisible());
}

TEST_F(MeasureDeskTest, ASuspectReadingIsSaidAndDroppedOnConsent) {
    open(with_lines(with_marks(), eight_ties()));
    EXPECT_TRUE(child<QLabel>("worstReading").text().contains("Reading 3. "))
        << child<QLabel>("worstReading").text().toStdString();
    press("dropWorst");
    EXPECT_TRUE(child<QWidget>("reasonRow").isVisible());
    press("confirmDrop");
    EXPECT_TRUE(open_.job().book.readings[2].dropped.empty()) << "not without a reason";
    EXPECT_TRUE(child<QLabel>("dropRefusal").isVisible());
    QTest::keyClicks(&child<QLineEdit>("dropReason"), "misread");
    QTest::keyClick(&child<QLineEdit>("dropReason"), Qt::Key_Return);
    EXPECT_EQ(open_.job().book.readings[2].dropped, "misread");
    EXPECT_FALSE(book_.results().solution.suspect);
    EXPECT_FALSE(child<QPushButton>("dropWorst").isVisible());
    ASSERT_TRUE(settle());
}

TEST_F(MeasureDeskTest, MeasuredAgainStandsBehindTheOldReading) {
    open(with_lines(with_marks(), eight_ties()));
    auto& again = child<QLineEdit>("measuredAgain");
    ASSERT_TRUE(again.isVisible());
    QTest::keyClicks(&again, "far");
    QTest::keyClick(&again, Qt::Key_Return);
    EXPECT_EQ(open_.job().book.readings.size(), 8U);
    EXPECT_TRUE(child<QLabel>("againRefusal").isVisible());
    again.clear();
    // sqrt(330² + 190² + 260²) = 461.1 by hand.
    QTest::keyClicks(&again, "461.1");
    QTest::keyClick(&again, Qt::Key_Return);
    ASSERT_EQ(open_.job().book.readings.size(), 9U);
    EXPECT_EQ(open_.job().book.readings[2].dropped, "measured again");
    EXPECT_EQ(open_.job().book.readings[8].points, (std::vector<std::string>{"C", "H1"}));
    EXPECT_FALSE(book_.results().solution.suspect);
    EXPECT_EQ(open_.history().count(), 1) << "one step";
    ASSERT_TRUE(settle());
}

TEST_F(MeasureDeskTest, TableAndPictureChooseTheSame) {
    open(with_lines(with_marks(), eight_ties(0.0)));
    auto& table = child<QTableView>("bookTable");
    table.selectRow(5);
    EXPECT_EQ(focus_.chosen().kind, Item::Kind::reading);
    NetworkDrawing& drawing = desk_.network().drawing();
    QTest::mouseClick(&drawing, Qt::LeftButton, {}, drawing.place_of("H1", NetworkView::plan)->toPoint());
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::point, "H1"}));
    EXPECT_TRUE(child<QLabel>("pointWords").text().contains("along 620")) << "rounded ties place it within 0.5 mm";
    EXPECT_EQ(focus_.along().has_value(), true);
    focus_.choose({Item::Kind::reading, open_.job().book.readings[1].id});
    EXPECT_EQ(table.currentIndex().row(), 1);
}

TEST_F(MeasureDeskTest, AMeasuredPointIsMadeAMountInOnePressAndFollowsTheBook) {
    open(with_lines(with_marks(), eight_ties()));
    focus_.choose({Item::Kind::point, "H1"});
    press("makeMount");
    ASSERT_EQ(open_.job().mounts.size(), 1U);
    EXPECT_EQ(open_.job().mounts[0].name, "H1");
    EXPECT_TRUE(open_.job().mounts[0].from_book);
    const double before = geometry::in_mm(open_.job().mounts[0].at.along.value);
    ASSERT_TRUE(open_.apply(core::drop_reading(open_.job(), open_.job().book.readings[2].id, "misread")));
    const core::Position& at = open_.job().mounts[0].at;
    EXPECT_NE(geometry::in_mm(at.along.value), before);
    EXPECT_NEAR(geometry::in_mm(at.along.value), 620.0, 0.5);
    EXPECT_NEAR(geometry::in_mm(at.up.value), -110.0, 0.5);
    press("makeMount");
    EXPECT_FALSE(open_.job().mounts[0].from_book) << "let go again";
    ASSERT_TRUE(settle());
}

TEST_F(MeasureDeskTest, AReadingIsDroppedTakenBackAndCorrectedByKeys) {
    open(with_lines(with_marks(), eight_ties(0.0)));
    auto& table = child<QTableView>("bookTable");
    table.setFocus();
    table.selectRow(1);
    QTest::keyClick(&table, Qt::Key_Delete);
    ASSERT_TRUE(child<QLineEdit>("dropReason").isVisible());
    QTest::keyClick(&child<QLineEdit>("dropReason"), Qt::Key_Escape);
    EXPECT_TRUE(open_.job().book.readings[1].dropped.empty());
    QTest::keyClick(&table, Qt::Key_Delete);
    QTest::keyClicks(&child<QLineEdit>("dropReason"), "tape slack");
    QTest::keyClick(&child<QLineEdit>("dropReason"), Qt::Key_Return);
    EXPECT_EQ(open_.job().book.readings[1].dropped, "tape slack");
    press("takeBackReading");
    EXPECT_TRUE(open_.job().book.readings[1].dropped.empty());
    QTest::keyClick(&table, Qt::Key_Return);
    EXPECT_TRUE(child<QLineEdit>("bookLine").text().startsWith("B H1 "));
    ASSERT_TRUE(settle());
}

TEST_F(MeasureDeskTest, TwoPlacesAlikeAreAskedAboutWithTwoButtons) {
    // Three marks in one plane: H1 may lie above or below it.
    core::Job job;
    for (const std::string line : {"A H1 663.8", "B H1 1301.8", "D H1 445.6"}) {
        job = core::add_reading(job, line).value().job;
    }
    const std::map<std::string, Eigen::Vector3d> flat{{"A", {0, 0, 0}}, {"B", {1900, 0, 0}}, {"D", {300, 500, 0}}};
    for (const auto& [name, at] : flat) {
        core::survey::Point point;
        point.name = name;
        point.along = core::entry(geometry::millimetres(at.x()));
        point.out = core::entry(geometry::millimetres(at.y()));
        point.up = core::entry(geometry::millimetres(at.z()));
        job = core::set_point(job, point).value().job;
    }
    open(job);
    ASSERT_EQ(book_.results().solution.mirrored.size(), 1U);
    EXPECT_TRUE(child<QLabel>("mirrorQuestion").isVisible());
    const double up = book_.results().solution.find("H1")->at_mm.z();
    press("mirrorThere");
    EXPECT_TRUE(book_.results().solution.mirrored.empty());
    EXPECT_NEAR(book_.results().solution.find("H1")->at_mm.z(), -up, 0.1) << "the marks' plane is up = 0";
    ASSERT_TRUE(settle());
}

TEST_F(MeasureDeskTest, ThreeMarksMakeTheFrame) {
    core::Job job;
    for (const auto& [from, to] :
         std::vector<std::pair<std::string, std::string>>{{"A", "B"}, {"A", "D"}, {"B", "D"}}) {
        job = core::add_reading(job, tie_line(from, to)).value().job;
    }
    open(job);
    EXPECT_EQ(book_.results().solution.find("A"), nullptr) << "nothing says where the frame is";
    desk_.show_page("framePage");
    for (const auto& [name, mark] :
         std::map<const char*, const char*>{{"originMark", "A"}, {"behindMark", "B"}, {"besideMark", "D"}}) {
        child<QComboBox>(name).setCurrentText(mark);
    }
    child<QLineEdit>("originAlong").setText("100");
    press("takeMarks");
    const auto* b = book_.results().solution.find("B");
    ASSERT_NE(b, nullptr);
    EXPECT_NEAR(b->at_mm.x(), 2000.0, 0.1) << "1900 behind the origin";
    EXPECT_NEAR(b->at_mm.y(), 0.0, 1e-9);
    EXPECT_NEAR(book_.results().solution.find("D")->at_mm.z(), 0.0, 1e-9);
    child<QLineEdit>("originAlong").setText("far");
    press("takeMarks");
    EXPECT_EQ(open_.history().count(), 1) << "refused in words";
    ASSERT_TRUE(settle());
}

TEST_F(MeasureDeskTest, OpensAtTheListsOfAJobThatHasThemAndNoBook) {
    desk_.add_page(new QLabel("lists"), "Lists", "listsPage");
    core::Job job;
    job.mounts.emplace_back().name = "H1";
    open(job);
    auto& tabs = child<QTabBar>("measurePages");
    EXPECT_EQ(tabs.tabText(tabs.currentIndex()), "Lists");
    open(with_lines(with_marks(), eight_ties()));
    EXPECT_EQ(tabs.tabText(tabs.currentIndex()), "Book");
}

}  // namespace
}  // namespace sillwright::app
