#include <QAbstractItemModel>
#include <QLabel>
#include <QLineEdit>
#include <QListView>
#include <QMessageBox>
#include <QTableView>
#include <QTimer>
#include <QUndoStack>
#include <algorithm>
#include <cmath>

#include "app/desk/stage_rail.h"
#include "core/edit/node_edit.h"
#include "tests/app/window_on_copy.h"

// What a person does with the window, from opening a job to saving it. Expected values: the sample job's own
// numbers; hand counts.
namespace sillwright::app {
namespace {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::millimetres;

class Journey : public WindowOnCopy {
protected:
    /// Everything taken back, one step after the other, by the action that a person has for it.
    void undo_to_the_start() {
        int steps = job().history().index();
        while (child<QAction>("undo").isEnabled()) {
            trigger("undo");
            ASSERT_GE(--steps, 0);
        }
        EXPECT_EQ(steps, 0);
    }
    void place_mount_at(double out_mm, double up_mm) {
        press("placeMountHand");
        enlarge({out_mm, up_mm});
        QTest::mouseClick(&section(), Qt::LeftButton, {}, reachable({out_mm, up_mm}));
        press("moveHand");
        press("fitSection");
    }
    /// Goes to the worst finding, opens its card and presses "Try it".
    void try_the_worst() {
        press("goToWorst");
        ASSERT_EQ(focus().chosen().kind, Item::Kind::finding);
        press("tryIt");  // what falls short is opened with its mend
    }
    QString first_finding() {
        const QAbstractItemModel* model = child<QListView>("findings").model();
        return model->index(0, 0).data().toString();
    }
    const core::Finding* finding(const std::string& id) {
        for (const core::Finding& one : job().results()->findings) {
            if (one.id == id) {
                return &one;
            }
        }
        return nullptr;
    }
    void answer(const QString& question, const QString& button) {
        QTimer::singleShot(0, window_.get(), [this, question, button] {
            auto* box = window_->findChild<QMessageBox*>(question);
            ASSERT_NE(box, nullptr) << question.toStdString();
            asked_ = box->text();
            box->findChild<QPushButton*>(button)->click();
        });
    }

    QString asked_;
};

TEST_F(Journey, AMountIsPlacedOnTheRockerByClicking) {
    open();
    press("stageSections");
    EXPECT_EQ(window_->stage(), core::Stage::sections);
    focus().go_to(millimetres(610));  // station 4
    window_->settle();
    place_mount_at(45.0, 16.235);
    ASSERT_EQ(job().job().mounts.size(), original_.mounts.size() + 1);
    const core::Mount& mount = job().job().mounts.back();
    EXPECT_EQ(focus().chosen(), (Item{Item::Kind::mount, mount.name}));
    EXPECT_EQ(in_mm(mount.at.along.value), 610.0);
    // The body's line between the nodes "sill turn" (60.9, 16.5) and "pinch outer" (30.9, 16), a straight.
    const double out = in_mm(mount.at.out.value);
    EXPECT_NEAR(out, 45.0, 1e-9) << "whole millimetres along the line";
    EXPECT_NEAR(in_mm(mount.at.up.value), 16.0 + (out - 30.9) * 0.5 / 30.0, 0.05);
    EXPECT_LT(mount.axis.z(), -0.99) << "the fastener goes in from below";
    EXPECT_EQ(child<QAction>("undo").text(), "undo: place mount " + QString::fromStdString(mount.name));
}

TEST_F(Journey, AMountIsPlacedOnASteepSideToo) {
    open();
    press("stageMounts");
    focus().go_to(millimetres(610));
    window_->settle();
    place_mount_at(69.0, 44.0);
    ASSERT_EQ(job().job().mounts.size(), original_.mounts.size() + 1);
    const core::Mount& mount = job().job().mounts.back();
    // Between "sill face" (71, 63) and "sill lower" (67, 24): 4 out on 39 up.
    const double up = in_mm(mount.at.up.value);
    EXPECT_NEAR(up, 44.0, 1.0);
    EXPECT_NEAR(in_mm(mount.at.out.value), 67.0 + (up - 24.0) * 4.0 / 39.0, 0.05);
    EXPECT_GT(mount.axis.y(), 0.9) << "away from the body";
}

TEST_F(Journey, ADraggedNodeMakesAFindingFallShortAndHoldAgain) {
    open();
    press("stageSwing");
    focus().go_to(millimetres(610));
    window_->settle();
    ASSERT_EQ(counts().falls_short, 0U) << "the sample holds";
    const auto& rail = child<StageButton>("stageSwing");
    const QString held = child<QLabel>("findingCount").text();
    const QString rail_held = rail.sentence();
    const std::string id = "s4.3";  // the shelf edge, below the front door's lower edge
    const Vector2d from = node_mm(id);

    QTest::mousePress(&section(), Qt::LeftButton, {}, reachable(from));
    double up = 0.0;
    while (up < 25.0 && counts().falls_short == 0) {
        move(from + Vector2d(0.0, up += 1.0));
        ASSERT_TRUE(job().current()) << "results follow the hand";
    }
    EXPECT_TRUE(job().dragging());
    EXPECT_TRUE(job().drag_deviation());
    EXPECT_GT(counts().falls_short, 0U) << "after " << up << " mm";
    EXPECT_NE(child<QLabel>("findingCount").text(), held) << "the list follows, too";
    EXPECT_NE(rail.sentence(), rail_held);
    EXPECT_TRUE(first_finding().startsWith("falls short")) << first_finding().toStdString();
    let_go(from + Vector2d(0.0, up));
    EXPECT_EQ(job().history().count(), 1) << "one drag is one step";
    ASSERT_TRUE(settle());
    EXPECT_GT(counts().falls_short, 0U) << "at full tolerance";

    drag(node_mm(id), from);
    let_go(from);  // How it is formed stands under the hand.
    ASSERT_TRUE(settle());
    EXPECT_EQ(counts().falls_short, 0U);
    EXPECT_EQ(rail.sentence(), rail_held);
    EXPECT_LT((node_mm(id) - from).norm(), 1.0);
    undo_to_the_start();
    EXPECT_EQ(core::job_text(job().job()), core::job_text(original_));
}

TEST_F(Journey, TheWorstFindingIsMendedAndTheMendKept) {
    open("estate_a_cladding.sillwright");
    const core::Finding before = job().results()->findings.front();
    const std::string id = before.id;
    EXPECT_EQ(before.state, core::State::falls_short);
    try_the_worst();
    EXPECT_EQ(focus().chosen(), (Item{Item::Kind::finding, id}));
    EXPECT_EQ(focus().along(), before.place.along) << "every drawing is taken there";
    EXPECT_TRUE(child<QWidget>("mendTrial").isVisible());
    ASSERT_TRUE(settle());
    ASSERT_TRUE(finding(id)->margin);
    EXPECT_GE(*finding(id)->margin, 0.0);
    const core::Job mended = job().job();
    press("keepMend");
    EXPECT_FALSE(child<QWidget>("mendTrial").isVisible());
    EXPECT_EQ(job().job(), mended);
    EXPECT_EQ(job().history().index(), 1) << "one step of the history";
    undo_to_the_start();
    EXPECT_EQ(core::job_text(job().job()), core::job_text(original_));
}

TEST_F(Journey, AMendIsPutBack) {
    open("estate_a_cladding.sillwright");
    const std::string id = job().results()->findings.front().id;
    const auto margin = finding(id)->margin;
    try_the_worst();
    EXPECT_NE(job().job(), original_);
    ASSERT_TRUE(settle());
    press("putBackMend");
    EXPECT_FALSE(child<QWidget>("mendTrial").isVisible());
    EXPECT_EQ(core::job_text(job().job()), core::job_text(original_));
    EXPECT_FALSE(job().changed());
    ASSERT_TRUE(settle());
    EXPECT_EQ(finding(id)->margin, margin);
}

TEST_F(Journey, WhatWasDoneIsUndoneToTheLastByte) {
    open();
    const std::string on_disk = bytes(file_);
    focus().go_to(millimetres(610));
    window_->settle();
    place_mount_at(45.0, 16.235);
    const Vector2d from = node_mm("s4.3");
    drag(from, from + Vector2d(3.0, -2.0));
    let_go(from + Vector2d(3.0, -2.0));
    QTest::keyClick(&section(), Qt::Key_Left);
    QTest::keyClick(&section(), Qt::Key_Up, Qt::ShiftModifier);
    QTest::keyClick(&section(), Qt::Key_Delete);
    EXPECT_EQ(job().history().count(), 5);
    EXPECT_TRUE(window_->isWindowModified());
    undo_to_the_start();
    EXPECT_EQ(core::job_text(job().job()), core::job_text(original_));
    EXPECT_FALSE(window_->isWindowModified());
    EXPECT_EQ(bytes(file_), on_disk) << "nothing was written unasked";
    trigger("save");
    EXPECT_EQ(core::parse_job(bytes(file_), "saved").value(), original_);
    for (int i = 0; i < 5; ++i) {
        trigger("redo");
    }
    EXPECT_FALSE(child<QAction>("redo").isEnabled());
    EXPECT_NE(job().job(), original_);
    undo_to_the_start();
}

TEST_F(Journey, ASavedJobIsTheSameInAnotherWindow) {
    open();
    focus().go_to(millimetres(610));
    window_->settle();
    place_mount_at(45.0, 16.235);
    const Vector2d from = node_mm("s4.3");
    drag(from, from + Vector2d(-4.0, 1.0));
    let_go(from + Vector2d(-4.0, 1.0));
    EXPECT_TRUE(window_->isWindowModified());
    trigger("save");
    EXPECT_FALSE(window_->isWindowModified());
    const core::Job saved = job().job();
    EXPECT_NE(saved, original_);
    EXPECT_TRUE(window_->close()) << "unasked: nothing is lost";
    open();
    EXPECT_EQ(job().job(), saved);
    EXPECT_EQ(bytes(file_), core::job_text(saved));
}

TEST_F(Journey, ANumberIsWrittenInATableAndTakenBack) {
    open();
    press("stageMeasure");
    window_->settle();
    const auto tables = window_->findChildren<QTableView*>("jobTable");
    const auto seen =
        std::find_if(tables.begin(), tables.end(), [](const QTableView* one) { return one->isVisible(); });
    ASSERT_NE(seen, tables.end()) << "measured numbers are written here";
    QTableView& table = **seen;
    const QAbstractItemModel& model = *table.model();
    int along = 0;
    while (along < model.columnCount() && model.headerData(along, Qt::Horizontal).toString() != "along") {
        ++along;
    }
    const QString named = model.index(0, 0).data().toString();
    const auto write = [&](const QString& text) {
        table.setFocus();
        table.setCurrentIndex(model.index(1, along));
        QTest::keyClick(&table, Qt::Key_F2);
        auto* editor = table.findChild<QLineEdit*>("cellEditor");
        ASSERT_NE(editor, nullptr);
        editor->selectAll();
        QTest::keyClicks(editor, text);
        QTest::keyClick(editor, Qt::Key_Return);
        window_->settle();
    };
    // The second row is station 2, at 165, or mount H2, at 262.7: both may stand at 170.
    write("170");
    EXPECT_EQ(job().history().count(), 1);
    EXPECT_EQ(model.index(1, along).data().toString(), "170");
    EXPECT_NE(job().job(), original_);
    write("much");
    EXPECT_EQ(job().history().count(), 1) << "what cannot be read is not taken";
    auto* again = table.findChild<QLineEdit*>("cellEditor");
    ASSERT_NE(again, nullptr) << "it stays to be mended";
    EXPECT_EQ(again->text(), "much");
    QTest::keyClick(again, Qt::Key_Escape);
    undo_to_the_start();
    EXPECT_EQ(core::job_text(job().job()), core::job_text(original_));
    EXPECT_EQ(model.index(0, 0).data().toString(), named);
}

TEST_F(Journey, TheSolidIsUnfoldedOverTheSectionAndFoldedAgain) {
    open();
    press("stageSwing");
    auto& round = child<QWidget>("roundDesk");
    const QSize folded = round.size();
    const QPoint under = section().mapTo(window_.get(), QPoint(80, 80));
    EXPECT_EQ(window_->childAt(under), &section());
    press("unfoldRound");
    window_->settle();
    EXPECT_GT(round.width(), folded.width());
    EXPECT_GT(round.height(), folded.height());
    EXPECT_NE(window_->childAt(under), &section()) << "it has the section's place";
    press("unfoldRound");
    window_->settle();
    EXPECT_EQ(round.size(), folded);
    EXPECT_EQ(window_->childAt(under), &section());
}

TEST_F(Journey, UnsavedChangesAreAskedForOnClosing) {
    open();
    const std::string on_disk = bytes(file_);
    focus().go_to(millimetres(610));
    window_->settle();
    place_mount_at(45.0, 16.235);
    answer("unsavedChanges", "stay");
    EXPECT_FALSE(window_->close());
    EXPECT_TRUE(window_->isVisible());
    EXPECT_TRUE(asked_.contains("changes that are not saved")) << asked_.toStdString();
    answer("unsavedChanges", "throwAway");
    EXPECT_TRUE(window_->close());
    EXPECT_EQ(bytes(file_), on_disk);

    open();
    focus().go_to(millimetres(610));
    window_->settle();
    place_mount_at(45.0, 16.235);
    const core::Job changed = job().job();
    answer("unsavedChanges", "saveJob");
    EXPECT_TRUE(window_->close());
    EXPECT_EQ(bytes(file_), core::job_text(changed));
}

TEST_F(Journey, ALineThatWouldCrossItselfIsRefusedInASentence) {
    open();
    focus().go_to(millimetres(610));
    window_->settle();
    auto& note = child<QLabel>("note");
    EXPECT_FALSE(note.isVisible());
    // The shelf edge put out through the straight from the bead to the knee.
    drag(node_mm("s4.3"), {165.0, 60.0});
    let_go({165.0, 60.0});
    EXPECT_TRUE(note.isVisible());
    EXPECT_TRUE(note.text().contains("station 4")) << note.text().toStdString();
    EXPECT_TRUE(note.text().endsWith("."));
    press("closeNote");
    EXPECT_FALSE(note.isVisible());
}

TEST_F(Journey, TheDoorTurnsInEveryDrawing) {
    open();
    press("stageSwing");
    focus().go_to(millimetres(610));
    window_->settle();
    auto& plot = child<QWidget>("clearancePlot");
    ASSERT_TRUE(plot.isVisible());
    const QImage section_shut = section().grab().toImage();
    const QImage plot_shut = plot.grab().toImage();
    auto& slider = child<QSlider>("doorSlider");
    slider.setFocus();
    QTest::keyClick(&slider, Qt::Key_PageUp);
    const geometry::Angle turned = focus().opening("front door");
    EXPECT_GT(geometry::in_deg(turned), 0.0);
    EXPECT_DOUBLE_EQ(geometry::in_deg(turned), slider.value() / 10.0);
    EXPECT_NE(section().grab().toImage(), section_shut);
    EXPECT_NE(plot.grab().toImage(), plot_shut);

    auto& angle = child<QLineEdit>("doorAngle");
    angle.setFocus();
    angle.selectAll();
    QTest::keyClicks(&angle, "12.3");
    QTest::keyClick(&angle, Qt::Key_Return);
    EXPECT_DOUBLE_EQ(geometry::in_deg(focus().opening("front door")), 12.3);
    EXPECT_EQ(slider.value(), 123);
    angle.selectAll();
    QTest::keyClicks(&angle, "300");
    QTest::keyClick(&angle, Qt::Key_Return);
    EXPECT_TRUE(child<QLabel>("angleRefused").isVisible());
    EXPECT_DOUBLE_EQ(geometry::in_deg(focus().opening("front door")), 12.3) << "stays";
    EXPECT_EQ(job().job(), original_) << "where a door stands is no part of the job";
}

TEST_F(Journey, ThePlumbLineGoesFromStationToStation) {
    open();
    auto& field = child<QLineEdit>("placeField");
    field.setFocus();
    field.selectAll();
    QTest::keyClicks(&field, "700");
    QTest::keyClick(&field, Qt::Key_Return);
    ASSERT_TRUE(focus().along());
    EXPECT_DOUBLE_EQ(in_mm(*focus().along()), 700.0);
    const std::string between = section().picture().title;
    press("stationBeyond");  // stations at 610 and 850
    EXPECT_DOUBLE_EQ(in_mm(*focus().along()), 850.0);
    EXPECT_NE(section().picture().title, between);
    press("stationBefore");
    EXPECT_DOUBLE_EQ(in_mm(*focus().along()), 610.0);
    EXPECT_TRUE(field.text().contains("610")) << field.text().toStdString();
    for (int i = 0; i < 3; ++i) {
        press("stationBefore");
    }
    EXPECT_DOUBLE_EQ(in_mm(*focus().along()), 0.0);
    EXPECT_FALSE(child<QAbstractButton>("stationBefore").isEnabled());
}

TEST_F(Journey, EveryStageOpensOnBothPapersAndTheBenchComesAndGoes) {
    open();
    for (const char* paper : {"darkPaper", "lightPaper"}) {
        trigger(paper);
        EXPECT_TRUE(child<QAction>(paper).isChecked());
        const bool dark = window_->palette().window().color().lightness() < 128;
        EXPECT_EQ(dark, std::string(paper) == "darkPaper");
        for (const core::Stage stage : core::k_stages) {
            const QString name = QString::fromStdString(core::words(stage).name);
            press("stage" + name);
            window_->settle();
            EXPECT_EQ(window_->stage(), stage) << name.toStdString();
            EXPECT_FALSE(window_->grab().isNull());
        }
    }
    auto& bench = child<QWidget>("benchDesk");
    trigger("bench");
    window_->settle();
    EXPECT_TRUE(bench.isVisible());
    EXPECT_FALSE(section().isVisible());
    EXPECT_FALSE(child<QLabel>("benchNumber").text().isEmpty());
    EXPECT_EQ(child<QLabel>("benchSide").text(), "RIGHT SIDE");
    press("benchNext");
    press("benchBack");
    EXPECT_FALSE(bench.isVisible());
    EXPECT_FALSE(child<QAction>("bench").isChecked());
    trigger("bench");
    QTest::keyClick(window_.get(), Qt::Key_Escape);
    EXPECT_FALSE(bench.isVisible());
    press("stageSections");
    EXPECT_TRUE(section().isVisible());
}

}  // namespace
}  // namespace sillwright::app
