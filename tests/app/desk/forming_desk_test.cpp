#include "app/desk/forming_desk.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QStackedWidget>
#include <QTabBar>
#include <QTest>

#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/drawings/flute_drawing.h"
#include "app/drawings/ladder_drawing.h"
#include "app/drawings/platen_drawing.h"
#include "app/drawings/thickness_plot.h"
#include "tests/app/drawings/readable.h"
#include "tests/app/link/formed_by_hand.h"

namespace sillwright::app {
namespace {

using geometry::millimetres;

class FormingDeskTest : public testing::Test {
protected:
    FormingDeskTest() {
        desk_.resize(830, 400);
        desk_.show();
    }
    void open(core::FormingPlan plan = hand_plan()) {
        const std::shared_ptr<const core::Evaluation> made = formed_by_hand(std::move(plan));
        open_.open(made->job, {}, made);
    }
    void show_page(const QString& name) {
        auto* tabs = desk_.findChild<QTabBar*>("formingPages");
        for (int i = 0; i < tabs->count(); ++i) {
            if (tabs->tabData(i).toString() == name) {
                tabs->setCurrentIndex(i);
                return;
            }
        }
        FAIL() << name.toStdString() << " is no page";
    }

    OpenJob open_;
    Focus focus_;
    FormingDesk desk_{open_, focus_};
};

TEST_F(FormingDeskTest, SaysThatNothingIsComputedYet) {
    EXPECT_FALSE(desk_.platen().picture().words.empty());
    EXPECT_FALSE(desk_.ladder().picture().words.empty());
}

TEST_F(FormingDeskTest, EachPageShowsWhatThePlanSays) {
    open();
    EXPECT_EQ(desk_.platen().picture().verdict, "90 mm too long");
    show_page("thicknessPage");
    focus_.go_to(millimetres(100.0));
    EXPECT_DOUBLE_EQ(desk_.thickness().picture().along_mm, 100.0) << "the plumb line's section";
    show_page("flutesPage");
    ASSERT_EQ(desk_.flutes().picture().rows.size(), 1U);
    EXPECT_EQ(desk_.flutes().picture().rows[0].bit, "round-nose 24");
    show_page("ladderPage");
    EXPECT_EQ(desk_.ladder().picture().rungs.size(), 6U);
    EXPECT_EQ(desk_.findChild<QComboBox*>("ladderDimension")->currentText(), QStringLiteral("length over all"));
}

TEST_F(FormingDeskTest, WhatIsOnThePagesCanBeRead) {
    open();
    const std::vector<std::pair<const char*, ComposedPaper*>> pages{{"machinePage", &desk_.platen()},
                                                                    {"thicknessPage", &desk_.thickness()},
                                                                    {"flutesPage", &desk_.flutes()},
                                                                    {"ladderPage", &desk_.ladder()}};
    for (const auto& [page, paper] : pages) {
        SCOPED_TRACE(page);
        show_page(page);
        QTest::qWait(0);
        EXPECT_TRUE(paper->isVisible());
        EXPECT_LE(paper->width(), desk_.width()) << "it is not scrolled sideways";
        expect_readable(paper->compose(QSizeF(paper->size())));
    }
}

TEST_F(FormingDeskTest, ALadderIsChosenByItsDimension) {
    core::FormingPlan plan = hand_plan();
    core::LadderOf height = plan.pieces[0].ladders[0];
    height.dimension.name = "section height";
    height.dimension.across = true;
    height.rungs[0].value = millimetres(110.0);
    plan.pieces[0].ladders.push_back(height);
    open(plan);
    show_page("ladderPage");
    auto* dimensions = desk_.findChild<QComboBox*>("ladderDimension");
    ASSERT_EQ(dimensions->count(), 2);
    dimensions->setCurrentIndex(1);
    EXPECT_DOUBLE_EQ(desk_.ladder().picture().rungs[0].value_mm, 110.0);
    EXPECT_TRUE(desk_.ladder().picture().across);
}

TEST_F(FormingDeskTest, APieceIsChosenOnlyWhereThereAreSeveral) {
    open();
    auto* pieces = desk_.findChild<QComboBox*>("formedPiece");
    EXPECT_FALSE(pieces->isVisible());
    core::FormingPlan plan = hand_plan();
    plan.pieces.push_back(plan.pieces[0]);
    plan.pieces[1].platen.excess = millimetres(-5.0);
    open(plan);
    EXPECT_TRUE(pieces->isVisible());
    pieces->setCurrentIndex(1);
    EXPECT_EQ(desk_.platen().picture().verdict, "5 mm to spare");
}

TEST_F(FormingDeskTest, TheSectionShowsThicknessOrDraftOnThatPageAlone) {
    open();
    int changes = 0;
    QObject::connect(&desk_, &FormingDesk::in_section_changed, &desk_, [&] { ++changes; });
    EXPECT_EQ(desk_.in_section(), SectionForming::none);
    show_page("thicknessPage");
    EXPECT_EQ(desk_.in_section(), SectionForming::thickness);
    desk_.findChild<QTabBar*>("sectionShows")->setCurrentIndex(1);
    EXPECT_EQ(desk_.in_section(), SectionForming::draft);
    desk_.findChild<QTabBar*>("sectionShows")->setCurrentIndex(2);
    EXPECT_EQ(desk_.in_section(), SectionForming::none);
    EXPECT_EQ(changes, 3);
}

TEST_F(FormingDeskTest, APressOnThePartsMovesThePlumbLine) {
    open();
    show_page("thicknessPage");
    emit desk_.thickness().went(250.0);
    ASSERT_TRUE(focus_.along());
    EXPECT_EQ(*focus_.along(), millimetres(250.0));
    EXPECT_DOUBLE_EQ(desk_.thickness().picture().along_mm, 250.0);
}

}  // namespace
}  // namespace sillwright::app
