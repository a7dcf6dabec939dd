#include "app/desk/tables_desk.h"

#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QApplication>
#include <QClipboard>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTabBar>
#include <QTableView>
#include <QTest>

#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "core/edit/node_edit.h"
#include "core/edit/table.h"
#include "core/job_file.h"
#include "tests/app/link/estate.h"

// Expected values: the sample job's own numbers; hand counts.
namespace sillwright::app {
namespace {

using geometry::in_mm;
using geometry::millimetres;

class Tables : public testing::Test {
protected:
    Tables() {
        open_.open(core::read_job(SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright").value(), {});
        desk_.resize(900, 600);
        desk_.show();
        desk_.activateWindow();
        EXPECT_TRUE(QTest::qWaitForWindowActive(&desk_));
        view_->setFocus();
    }

    QModelIndex cell(int row, const QString& column) const {
        const QAbstractItemModel* model = view_->model();
        for (int i = 0; i < model->columnCount(); ++i) {
            if (model->headerData(i, Qt::Horizontal).toString() == column) {
                return model->index(row, i);
            }
        }
        ADD_FAILURE() << "no column " << column.toStdString();
        return {};
    }
    void choose(const QModelIndex& at) {
        view_->scrollTo(at);
        QTest::mouseClick(view_->viewport(), Qt::LeftButton, {}, view_->visualRect(at).center());
    }
    QLineEdit* editor() const { return view_->findChild<QLineEdit*>("cellEditor"); }
    void type(const QModelIndex& at, const QString& text) {
        choose(at);
        QTest::keyClick(view_, Qt::Key_F2);
        ASSERT_NE(editor(), nullptr);
        editor()->selectAll();
        QTest::keyClicks(editor(), text);
        QTest::keyClick(editor(), Qt::Key_Return);
        QTest::qWait(20);  // Qt takes what was typed once the key is done with
    }
    QString said() const {
        const auto* label = desk_.findChild<QLabel*>("tableRefusal");
        return label->isVisible() ? label->text() : QString();
    }
    void press(const QString& name) { QTest::mouseClick(desk_.findChild<QPushButton*>(name), Qt::LeftButton); }

    OpenJob open_;
    Focus focus_;
    TablesDesk desk_{open_, focus_};
    QTableView* view_ = desk_.findChild<QTableView*>("jobTable");
    QTabBar* choice_ = desk_.findChild<QTabBar*>("tableChoice");
    QAbstractItemModelTester contract_{view_->model(), QAbstractItemModelTester::FailureReportingMode::Fatal};
};

TEST_F(Tables, ACellIsTypedInPlace) {
    type(cell(1, "along"), "12.5");
    EXPECT_EQ(in_mm(open_.job().mounts[1].at.along.value), 12.5);
    EXPECT_EQ(open_.history().count(), 1);
    EXPECT_EQ(said(), "");
}

TEST_F(Tables, ARefusedTextIsNotLost) {
    const core::Job before = open_.job();
    type(cell(1, "along"), "82 mmm");
    QTest::qWait(50);
    EXPECT_EQ(open_.job(), before);
    EXPECT_TRUE(said().contains("mmm")) << said().toStdString();
    ASSERT_NE(editor(), nullptr) << "open again";
    EXPECT_EQ(editor()->text(), "82 mmm");
    editor()->selectAll();
    QTest::keyClicks(editor(), "82 mm");
    QTest::keyClick(editor(), Qt::Key_Return);
    QTest::qWait(20);  // Qt takes what was typed once the key is done with
    EXPECT_EQ(in_mm(open_.job().mounts[1].at.along.value), 82.0);
    EXPECT_EQ(said(), "");
}

TEST_F(Tables, EscapeLeavesTheCellAsItWas) {
    const core::Job before = open_.job();
    type(cell(1, "along"), "82 mmm");
    QTest::qWait(50);
    ASSERT_NE(editor(), nullptr);
    QTest::keyClick(editor(), Qt::Key_Escape);
    QTest::qWait(50);
    EXPECT_EQ(open_.job(), before);
    type(cell(1, "along"), "83");
    EXPECT_EQ(in_mm(open_.job().mounts[1].at.along.value), 83.0);
}

TEST_F(Tables, AnEditorStaysOpenWhileOtherThingsChange) {
    choose(cell(1, "along"));
    QTest::keyClick(view_, Qt::Key_F2);
    ASSERT_NE(editor(), nullptr);
    QTest::keyClicks(editor(), "77");
    const QString typed = editor()->text();
    // Another mount, and a new one.
    ASSERT_TRUE(open_.apply(core::write_cell(open_.job(), core::Table::mounts, 3,
                                             static_cast<std::size_t>(cell(3, "along").column()), "900")));
    ASSERT_TRUE(open_.apply(core::add_row(open_.job(), core::Table::mounts)));
    ASSERT_NE(editor(), nullptr);
    EXPECT_EQ(editor()->text(), typed);
}

TEST_F(Tables, CopiesAndPastesAsASpreadsheetDoes) {
    const QModelIndex first = cell(0, "along");
    choose(first);
    QTest::keyClick(view_, Qt::Key_Down, Qt::ShiftModifier);
    QTest::keySequence(view_, QKeySequence::Copy);
    EXPECT_EQ(QApplication::clipboard()->text(),
              first.data().toString() + "\n" + cell(1, "along").data().toString() + "\n");
    QApplication::clipboard()->setText("101\t51\r\n202\t52\r\n");
    choose(first);
    QTest::keySequence(view_, QKeySequence::Paste);
    EXPECT_EQ(said(), "");
    EXPECT_EQ(in_mm(open_.job().mounts[0].at.along.value), 101.0);
    EXPECT_EQ(in_mm(open_.job().mounts[1].at.along.value), 202.0);
    EXPECT_EQ(open_.history().count(), 1);
    QApplication::clipboard()->setText("1\nwrong\n");
    QTest::keySequence(view_, QKeySequence::Paste);
    EXPECT_TRUE(said().contains("2")) << "the line: " << said().toStdString();
    EXPECT_EQ(open_.history().count(), 1);
}

TEST_F(Tables, DeleteEmptiesCellsAndTheButtonDeletesRows) {
    const std::size_t mounts = open_.job().mounts.size();
    EXPECT_FALSE(desk_.findChild<QPushButton*>("deleteRows")->isEnabled()) << "nothing is chosen";
    choose(cell(0, "size"));
    QTest::keyClick(view_, Qt::Key_Delete);
    EXPECT_FALSE(open_.job().mounts[0].size);
    press("deleteRows");
    EXPECT_EQ(open_.job().mounts.size(), mounts - 1);
    EXPECT_EQ(open_.job().mounts[0].name, "H2");
    press("addRow");
    EXPECT_EQ(open_.job().mounts.size(), mounts);
    EXPECT_EQ(view_->currentIndex().row(), static_cast<int>(mounts) - 1);
    EXPECT_EQ(focus_.chosen().id, open_.job().mounts.back().name);
}

TEST_F(Tables, AChosenRowIsChosenEverywhere) {
    choose(cell(2, "name"));
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::mount, open_.job().mounts[2].name}));
    EXPECT_EQ(focus_.along(), open_.job().mounts[2].at.along.value);
    choice_->setCurrentIndex(1);
    choose(cell(3, "name"));
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::station, open_.job().stations[3].name}));
    EXPECT_EQ(focus_.along(), open_.job().stations[3].along.value);
}

TEST_F(Tables, WhatIsChosenElsewhereIsChosenHere) {
    focus_.go_to(millimetres(1.0));
    focus_.choose({Item::Kind::mount, "H4"});
    EXPECT_EQ(view_->currentIndex().row(), 3);
    focus_.choose({Item::Kind::station, open_.job().stations[2].name});
    EXPECT_EQ(choice_->currentIndex(), 1);
    EXPECT_EQ(view_->currentIndex().row(), 2);
    focus_.choose({Item::Kind::node, "s1"});
    EXPECT_EQ(choice_->currentIndex(), 1);
    EXPECT_EQ(focus_.along(), millimetres(1.0)) << "the one that chose has gone there already";
}

TEST_F(Tables, ARenamedRowStaysChosenAndADeletedOneChoosesNoOther) {
    type(cell(2, "name"), "H3 new");
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::mount, "H3 new"}));
    ASSERT_TRUE(open_.apply(core::delete_rows(open_.job(), core::Table::mounts, {2})));
    EXPECT_EQ(focus_.chosen().id, "H3 new") << "that it is gone is for who deleted it to say";
}

TEST_F(Tables, EverythingIsLargeEnoughAndHasAName) {
    for (const char* name : {"addRow", "deleteRows"}) {
        const auto* button = desk_.findChild<QPushButton*>(name);
        EXPECT_GE(button->height(), 40);
        EXPECT_FALSE(button->accessibleName().isEmpty());
    }
    EXPECT_GE(choice_->tabRect(0).height(), 40);
    EXPECT_EQ(view_->rowHeight(0), 40);
    EXPECT_EQ(view_->font().pixelSize(), 16);
    EXPECT_EQ(view_->accessibleName(), "Mounts");
}

/// The middle of the window on a screen 1366 pixels wide: what rail and findings leave, rounded down.
constexpr int k_middle_width = 700;

class FormingTables : public testing::Test {
protected:
    FormingTables() {
        core::Job job = core::read_job(SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright").value();
        job.forming = {};  // Nothing is listed yet.
        open_.open(job, {});
        desk_.resize(k_middle_width, 500);
        desk_.show();
        EXPECT_TRUE(QTest::qWaitForWindowExposed(&desk_));
    }
    void press(const QString& name) { QTest::mouseClick(desk_.findChild<QPushButton*>(name), Qt::LeftButton); }

    OpenJob open_;
    Focus focus_;
    TablesDesk desk_{open_, focus_, tables_of(core::Stage::forming)};
    QTableView* view_ = desk_.findChild<QTableView*>("jobTable");
    QTabBar* choice_ = desk_.findChild<QTabBar*>("tableChoice");
};

TEST_F(FormingTables, AreChosenByTabsOfWhichNoneIsCut) {
    const QStringList names{"Flutes", "Recesses", "Moulds", "Ticks", "Machines", "Stock", "Bits", "Gauge"};
    ASSERT_EQ(choice_->count(), names.size());
    for (int tab = 0; tab < choice_->count(); ++tab) {
        EXPECT_EQ(choice_->tabText(tab), names[tab]);
        EXPECT_GE(choice_->tabRect(tab).width(), choice_->fontMetrics().horizontalAdvance(names[tab]));
        EXPECT_TRUE(choice_->rect().contains(choice_->tabRect(tab))) << names[tab].toStdString();
    }
    EXPECT_TRUE(choice_->usesScrollButtons()) << "where there is less room still";
}

TEST_F(FormingTables, ARowIsAddedTypedAndDeletedInEachOfThem) {
    // What is written into the second column of each.
    const std::vector<std::pair<core::Table, std::string>> typed{
        {core::Table::flutes, "17"},    {core::Table::recesses, "shelf"}, {core::Table::generations, "male"},
        {core::Table::ticks, "across"}, {core::Table::machines, "2200"},  {core::Table::stock, "2440"},
        {core::Table::bits, "vee"},     {core::Table::gauge_points, "12"}};
    for (const auto& [table, text] : typed) {
        desk_.show_table(table);
        const std::size_t rows = core::row_count(open_.job(), table);
        press("addRow");
        ASSERT_EQ(core::row_count(open_.job(), table), rows + 1) << text;
        EXPECT_EQ(view_->currentIndex().row(), static_cast<int>(rows));
        EXPECT_NE(core::cell(open_.job(), table, rows, 1), text);
        EXPECT_TRUE(view_->model()->setData(view_->model()->index(static_cast<int>(rows), 1), text.c_str()));
        EXPECT_EQ(core::cell(open_.job(), table, rows, 1), text);
    }
    EXPECT_EQ(focus_.chosen(), Item{}) << "no drawing has such a thing";
    for (const core::Table table : {core::Table::ticks, core::Table::bits}) {
        desk_.show_table(table);
        view_->setCurrentIndex(view_->model()->index(0, 0));
        press("deleteRows");
        EXPECT_EQ(core::row_count(open_.job(), table), 0U);
    }
}

TEST_F(FormingTables, SayWhatMustBeThereFirst) {
    desk_.show_table(core::Table::ticks);
    const int before = open_.history().count();
    press("addRow");
    EXPECT_EQ(open_.history().count(), before);
    const auto* said = desk_.findChild<QLabel*>("tableRefusal");
    EXPECT_TRUE(said->isVisible());
    EXPECT_TRUE(said->text().contains("generations first")) << said->text().toStdString();
}

TEST_F(FormingTables, WhatIsChosenElsewhereLeavesThemAsTheyAre) {
    focus_.choose({Item::Kind::mount, "H4"});
    EXPECT_EQ(choice_->currentIndex(), 0);
    press("addRow");
    view_->setCurrentIndex(view_->model()->index(0, 0));
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::mount, "H4"})) << "a flute is chosen in its table alone";
}

TEST(TablesOf, AStageAreThoseItWorksWith) {
    using core::Table;
    EXPECT_EQ(tables_of(core::Stage::measure),
              (std::vector{Table::mounts, Table::stations, Table::doors, Table::keep_outs}));
    EXPECT_EQ(tables_of(core::Stage::mounts).back(), Table::drains);
    std::vector<Table> all = tables_of(core::Stage::mounts);
    const std::vector<Table> forming = tables_of(core::Stage::forming);
    const std::vector<Table> buck = tables_of(core::Stage::buck);
    all.insert(all.end(), forming.begin(), forming.end());
    all.insert(all.end(), buck.begin(), buck.end());
    EXPECT_EQ(all, std::vector(core::k_tables.begin(), core::k_tables.end())) << "each is offered somewhere";
}

}  // namespace
}  // namespace sillwright::app
