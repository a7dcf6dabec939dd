#include "app/desk/buck_desk.h"

#include <gtest/gtest.h>

#include <QAbstractButton>
#include <QComboBox>
#include <QLabel>
#include <QProgressBar>
#include <QTabBar>
#include <QTest>
#include <atomic>
#include <thread>

#include "app/desk/focus.h"
#include "app/desk/open_buck.h"
#include "app/desk/open_job.h"
#include "app/drawings/assembly_drawing.h"
#include "app/drawings/nest_drawing.h"
#include "app/drawings/rib_drawing.h"
#include "tests/app/drawings/readable.h"
#include "tests/app/link/buck_by_hand.h"

namespace sillwright::app {
namespace {

using geometry::millimetres;

class BuckDeskTest : public testing::Test {
protected:
    BuckDeskTest() {
        desk_.resize(930, 600);
        desk_.show();
    }
    ~BuckDeskTest() override { go_on_ = true; }
    void open(std::shared_ptr<const core::Evaluation> made = bucked_by_hand()) { open_.open(made->job, {}, made); }
    void show_page(const QString& name) {
        auto* tabs = desk_.findChild<QTabBar*>("buckPages");
        for (int i = 0; i < tabs->count(); ++i) {
            if (tabs->tabData(i).toString() == name) {
                tabs->setCurrentIndex(i);
                return;
            }
        }
        FAIL() << name.toStdString() << " is no page";
    }
    void press(const char* name) {
        auto* button = desk_.findChild<QAbstractButton*>(name);
        ASSERT_TRUE(button->isVisible() && button->isEnabled()) << name;
        QTest::mouseClick(button, Qt::LeftButton);
    }
    bool settle() {
        return QTest::qWaitFor([this] { return !buck_.computing(); }, 60'000);
    }

    std::atomic<bool> go_on_ = true;
    OpenJob open_;
    OpenBuck buck_{open_, nullptr,
                   [this](const core::Evaluation&, const geometry::Watch& watch,
                          const std::function<void(SharedWork)>& better) -> geometry::Result<SharedWork> {
                       better(work_by_hand(1));
                       while (!go_on_ && !watch.stop.stop_requested()) {
                           std::this_thread::yield();
                       }
                       return work_by_hand(2);
                   }};
    Focus focus_;
    BuckDesk desk_{open_, buck_, focus_};
};

TEST_F(BuckDeskTest, SaysThatNothingIsComputedYet) {
    EXPECT_FALSE(desk_.rib().picture().words.empty());
    EXPECT_FALSE(desk_.assembly().picture().words.empty());
    show_page("sheetsPage");
    EXPECT_FALSE(desk_.nest().picture().words.empty());
}

TEST_F(BuckDeskTest, TheRibGoesWithThePlumbLine) {
    open();
    EXPECT_EQ(desk_.rib().picture().label, "R1");
    focus_.go_to(millimetres(680.0));
    EXPECT_EQ(desk_.rib().picture().label, "R3") << "at 700, the nearest one";
    EXPECT_EQ(*focus_.along(), millimetres(680.0)) << "the plumb line stays where it was put";
    press("ribBeyond");
    EXPECT_EQ(desk_.rib().picture().label, "R4");
    EXPECT_EQ(*focus_.along(), millimetres(1000.0));
    EXPECT_FALSE(desk_.findChild<QWidget*>("ribBeyond")->isEnabled()) << "it is the last one";
    press("ribBefore");
    press("ribBefore");
    press("ribBefore");
    EXPECT_EQ(desk_.rib().picture().label, "R1");
    EXPECT_FALSE(desk_.findChild<QWidget*>("ribBefore")->isEnabled());
    EXPECT_EQ(*focus_.along(), millimetres(100.0));
    desk_.findChild<QComboBox*>("rib")->setCurrentIndex(2);
    EXPECT_EQ(*focus_.along(), millimetres(700.0));
}

TEST_F(BuckDeskTest, APressInTheAssemblyChoosesARib) {
    open();
    show_page("assemblyPage");
    ASSERT_EQ(desk_.assembly().picture().ribs.size(), 4U);
    emit desk_.assembly().chose(3);
    EXPECT_TRUE(desk_.assembly().picture().ribs[3].chosen);
    EXPECT_EQ(*focus_.along(), millimetres(1000.0));
    show_page("ribsPage");
    EXPECT_EQ(desk_.rib().picture().label, "R4");
}

TEST_F(BuckDeskTest, SheetsAreComputedWhileTheyAreSeenAndCanBeStopped) {
    go_on_ = false;
    open();
    EXPECT_FALSE(buck_.computing());
    show_page("sheetsPage");
    EXPECT_TRUE(buck_.computing());
    EXPECT_TRUE(desk_.findChild<QProgressBar*>("nestProgress")->isVisible());
    ASSERT_TRUE(QTest::qWaitFor([&] { return buck_.work() != nullptr; }, 60'000));
    EXPECT_EQ(desk_.nest().picture().count, 1U) << "the first one found is shown";
    press("stopNesting");
    EXPECT_FALSE(buck_.computing());
    EXPECT_FALSE(desk_.findChild<QProgressBar*>("nestProgress")->isVisible());
    EXPECT_EQ(desk_.nest().picture().verdict, "1 sheet · 2 left out");
    go_on_ = true;
    press("stopNesting");  // goes on
    ASSERT_TRUE(settle());
    EXPECT_EQ(desk_.nest().picture().count, 2U);
    EXPECT_FALSE(desk_.findChild<QWidget*>("stopNesting")->isVisible());
    EXPECT_EQ(desk_.findChild<QLabel*>("nestWords")->text(), QStringLiteral("best of 3 tries"));
}

TEST_F(BuckDeskTest, StepsFromSheetToSheet) {
    open();
    show_page("sheetsPage");
    ASSERT_TRUE(settle());
    EXPECT_EQ(desk_.nest().picture().number, 1U);
    EXPECT_FALSE(desk_.findChild<QWidget*>("sheetBefore")->isEnabled());
    press("sheetBeyond");
    EXPECT_EQ(desk_.nest().picture().number, 2U);
    EXPECT_FALSE(desk_.findChild<QWidget*>("sheetBeyond")->isEnabled());
    press("sheetBefore");
    EXPECT_EQ(desk_.nest().picture().number, 1U);
}

TEST_F(BuckDeskTest, WhatIsOnThePagesCanBeRead) {
    open();
    const std::vector<std::pair<const char*, ComposedPaper*>> pages{
        {"ribsPage", &desk_.rib()}, {"assemblyPage", &desk_.assembly()}, {"sheetsPage", &desk_.nest()}};
    for (const auto& [page, paper] : pages) {
        SCOPED_TRACE(page);
        show_page(page);
        ASSERT_TRUE(settle());
        QTest::qWait(0);
        EXPECT_TRUE(paper->isVisible());
        EXPECT_LE(paper->width(), desk_.width()) << "it is not scrolled sideways";
        expect_readable(paper->compose(QSizeF(paper->size())));
    }
}

TEST_F(BuckDeskTest, APieceIsChosenOnlyWhereThereAreSeveral) {
    open();
    auto* pieces = desk_.findChild<QComboBox*>("buckPiece");
    EXPECT_FALSE(pieces->isVisible());
    open(twice_by_hand());
    EXPECT_TRUE(pieces->isVisible());
    EXPECT_EQ(desk_.rib().picture().count, 4U);
    pieces->setCurrentIndex(1);
    EXPECT_EQ(desk_.rib().picture().count, 2U);
}

TEST_F(BuckDeskTest, SaysWhatMustBeDecidedFirst) {
    open(lacking_by_hand());
    EXPECT_NE(desk_.rib().picture().words.find("the plug's skin"), std::string::npos);
    EXPECT_FALSE(desk_.findChild<QComboBox*>("rib")->isEnabled());
}

}  // namespace
}  // namespace sillwright::app
