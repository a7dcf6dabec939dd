#include "app/desk/findings_desk.h"

#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QApplication>
#include <QComboBox>
#include <QLabel>
#include <QLayout>
#include <QListView>
#include <QProgressBar>
#include <QPushButton>
#include <QSignalSpy>
#include <QTest>
#include <filesystem>
#include <memory>

#include "app/desk/finding_list.h"
#include "app/desk/finding_sheet.h"
#include "app/desk/findings_model.h"
#include "app/desk/focus.h"
#include "app/desk/item.h"
#include "app/desk/margin_note.h"
#include "app/desk/mend_trial.h"
#include "app/desk/open_job.h"
#include "app/desk/wrapped_text.h"
#include "core/edit/node_edit.h"
#include "core/evaluate.h"
#include "core/job_file.h"

namespace sillwright::app {
namespace {

using core::Finding;
using core::Stage;
using core::State;

/// On a loaded machine a computation takes its time.
constexpr int k_patience_ms = 120000;

/// Estate A with cladding: its cladding touches the skirt, and a mend is known.
class FindingsDeskTest : public testing::Test {
protected:
    static void SetUpTestSuite() {
        file_ = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a_cladding.sillwright";
        results_ = core::evaluate(core::read_job(file_).value(), file_.parent_path()).value();
    }
    static void TearDownTestSuite() { results_.reset(); }

    void SetUp() override {
        open_.open(results_->job, file_, results_);
        desk_.resize(330, 700);
        desk_.show();
        QApplication::processEvents();
    }

    template <class Widget>
    Widget& find(const char* name) {
        auto* widget = desk_.findChild<Widget*>(QString::fromLatin1(name));
        if (widget == nullptr) {
            ADD_FAILURE() << "no " << name;
            std::abort();
        }
        return *widget;
    }
    void press(const char* name) { QTest::mouseClick(&find<QPushButton>(name), Qt::LeftButton); }
    FindingList& list() { return find<FindingList>("findings"); }
    FindingsModel& model() { return *static_cast<FindingsModel*>(list().model()); }
    const Finding& current() { return model().finding(list().currentIndex().row()); }
    void press_card(int row) {
        const QRect card = list().visualRect(model().index(row));
        QTest::mouseClick(list().viewport(), Qt::LeftButton, {}, card.topLeft() + QPoint(60, 14));
    }
    /// The worst finding that a move of nodes mends.
    const Finding& mendable() {
        for (const Finding& finding : results_->findings) {
            if (finding.mend && !finding.mend->moves.empty()) {
                return finding;
            }
        }
        ADD_FAILURE() << "no mend";
        std::abort();
    }

    static inline std::filesystem::path file_;
    static inline std::shared_ptr<const core::Evaluation> results_;
    OpenJob open_;
    Focus focus_;
    FindingsDesk desk_{open_, focus_};
};

TEST_F(FindingsDeskTest, CountsAndShowsTheWorstFirst) {
    EXPECT_EQ(find<QLabel>("findingCount").text().toStdString(), core::count_sentence(results_->findings));
    EXPECT_EQ(model().rowCount(), static_cast<int>(results_->findings.size()));
    EXPECT_EQ(desk_.counts(std::nullopt), core::count_states(results_->findings));
    EXPECT_EQ(desk_.counts(Stage::swing), core::count_states(results_->findings, Stage::swing));
    EXPECT_EQ(focus_.along(), results_->findings.front().place.along) << "a job opens where its worst finding is";
    const QAbstractItemModelTester contract(&model(), QAbstractItemModelTester::FailureReportingMode::Fatal);
}

TEST_F(FindingsDeskTest, TakesAllDrawingsToAFinding) {
    press("goToWorst");
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::finding, results_->findings[0].id}));
    press("nextFinding");
    const Finding& second = results_->findings[1];
    EXPECT_EQ(focus_.chosen().id, second.id);
    press("previousFinding");
    press("previousFinding");  // stays at the first
    EXPECT_EQ(focus_.chosen().id, results_->findings[0].id);
    for (const Finding& finding : results_->findings) {
        if (finding.place.door.empty() || !finding.place.along || !finding.place.door_angle) {
            continue;
        }
        focus_.clear();
        press_card(*model().row_of(finding.id));
        if (!list().visualRect(model().index(*model().row_of(finding.id))).isEmpty() &&
            focus_.chosen().id == finding.id) {
            EXPECT_EQ(focus_.along(), finding.place.along);
            EXPECT_EQ(focus_.opening(finding.place.door), *finding.place.door_angle);
        }
        break;
    }
}

TEST_F(FindingsDeskTest, IsWorkedByKeys) {
    list().setFocus();
    QTest::keyClick(&list(), Qt::Key_Home);
    QTest::keyClick(&list(), Qt::Key_Down);
    EXPECT_EQ(focus_.chosen().id, results_->findings[1].id) << "arrow keys choose";
    QTest::keyClick(&list(), Qt::Key_Return);
    EXPECT_EQ(list().open_id(), results_->findings[1].id);
    EXPECT_TRUE(list().sheet().isVisible());
    QTest::keyClick(&list(), Qt::Key_Escape);
    EXPECT_TRUE(list().open_id().empty());
    EXPECT_FALSE(list().sheet().isVisible());
    EXPECT_EQ(find<QPushButton>("goToWorst").shortcut(), QKeySequence(Qt::ALT | Qt::Key_Home));
    for (const char* name : {"goToWorst", "previousFinding", "nextFinding", "hideHolding"}) {
        EXPECT_GE(find<QAbstractButton>(name).height(), 40) << name;
        EXPECT_FALSE(find<QAbstractButton>(name).accessibleName().isEmpty()) << name;
    }
}

TEST_F(FindingsDeskTest, MarksWhatIsChosenInADrawing) {
    const core::Mount* used = nullptr;
    for (const core::Mount& mount : results_->job.mounts) {
        if (mount.use == core::MountUse::flange) {
            used = &mount;
        }
    }
    ASSERT_NE(used, nullptr);
    focus_.choose({Item::Kind::mount, used->name});
    EXPECT_EQ(current().place.mount, used->name);
    for (const Finding& finding : results_->findings) {
        if (finding.place.mount == used->name) {
            EXPECT_EQ(current().id, finding.id) << "the worst of them";
            break;
        }
    }
    EXPECT_TRUE(list().viewport()->rect().intersects(list().visualRect(list().currentIndex()))) << "scrolled to";
    EXPECT_EQ(focus_.chosen().kind, Item::Kind::mount) << "the mount stays chosen";
    focus_.choose({Item::Kind::node, mendable().mend->moves.front().node_id});
    EXPECT_EQ(current().id, mendable().id);
    focus_.choose({Item::Kind::door, results_->job.doors.back().name});
    EXPECT_EQ(current().place.door, results_->job.doors.back().name);
}

TEST_F(FindingsDeskTest, FiltersByStage) {
    QSignalSpy shown(&desk_, &FindingsDesk::stage_shown);
    auto& stages = find<QComboBox>("stageFilter");
    EXPECT_EQ(stages.count(), 8) << "all, and the seven";
    stages.setCurrentText(QStringLiteral("Swing"));
    EXPECT_EQ(desk_.stage(), Stage::swing);
    EXPECT_EQ(static_cast<std::size_t>(model().rowCount()), desk_.counts(Stage::swing).all());
    EXPECT_EQ(shown.count(), 1);
    desk_.show_stage(Stage::mounts);
    EXPECT_EQ(stages.currentText(), "Mounts");
    EXPECT_EQ(shown.count(), 2);
    desk_.show_stage(Stage::mounts);
    EXPECT_EQ(shown.count(), 2) << "nothing changed";
    find<QAbstractButton>("hideHolding").click();
    const core::StateCounts mounts = desk_.counts(Stage::mounts);
    EXPECT_EQ(static_cast<std::size_t>(model().rowCount()), mounts.all() - mounts.holds);
    focus_.choose({Item::Kind::finding, mendable().id});
    EXPECT_FALSE(desk_.stage()) << "a finding that was chosen elsewhere is shown, whatever was filtered";
    EXPECT_EQ(current().id, mendable().id);
}

TEST_F(FindingsDeskTest, OpensAFindingWithAllThatIsKnownOfIt) {
    desk_.resize(330, 2000);
    QApplication::processEvents();
    const int row = *model().row_of(mendable().id);
    list().take_in_hand(row);
    press_card(row);
    ASSERT_EQ(list().open_id(), mendable().id);
    const QString words = find<WrappedText>("findingDetails").words();
    EXPECT_TRUE(words.contains(QString::fromStdString(mendable().why)));
    EXPECT_TRUE(words.contains(QString::fromStdString(mendable().formula)));
    EXPECT_TRUE(words.contains(QString::fromStdString(mendable().source)));
    for (const core::Input& input : mendable().inputs) {
        EXPECT_TRUE(words.contains(QString::fromStdString(input.name + ": " + input.value)));
    }
    EXPECT_EQ(words.contains("touches, or may touch"), !mendable().touching.empty());
    EXPECT_TRUE(find<WrappedText>("mendWords").words().contains(QString::fromStdString(mendable().mend->words)));
    auto& try_it = find<QPushButton>("tryIt");
    EXPECT_TRUE(try_it.isVisible());
    EXPECT_GE(try_it.height(), 40);
    const QRect card = list().visualRect(model().index(row));
    EXPECT_TRUE(card.contains(list().sheet().geometry())) << "the sheet lies on its card";
    EXPECT_GE(list().sheet().height(), list().sheet().height_at(list().sheet().width())) << "nothing is cut off";
    press_card(row);
    EXPECT_TRUE(list().open_id().empty());
}

TEST_F(FindingsDeskTest, TriesAMendAndPutsItBack) {
    const core::Job original = open_.job();
    const Finding tried = mendable();
    list().open(tried.id);
    find<QPushButton>("tryIt").click();
    auto& trial = find<MendTrial>("mendTrial");
    ASSERT_TRUE(trial.isVisible());
    EXPECT_EQ(open_.history().count(), 1);
    EXPECT_NE(open_.job(), original);
    EXPECT_TRUE(find<MarginNote>("marginAfter").words().contains("computed"))
        << "nothing is said of after before it is known";
    EXPECT_EQ(find<MarginNote>("marginBefore").words().toStdString(),
              "margin before: " + core::joined({core::numbers_of(tried).margin, core::look(tried.state).word}, ", "));
    EXPECT_FALSE(find<QPushButton>("tryIt").isEnabled()) << "not of findings that are stale";
    ASSERT_TRUE(QTest::qWaitFor([&] { return open_.current(); }, k_patience_ms));
    // The mend was computed to a margin of 0 to 0.02 mm (core/swing/swing_mend.h): it holds, or is close.
    const auto& after = open_.results()->findings;
    const auto now = std::find_if(after.begin(), after.end(), [&](const Finding& f) { return f.id == tried.id; });
    ASSERT_NE(now, after.end());
    EXPECT_NE(now->state, State::falls_short);
    EXPECT_TRUE(
        find<MarginNote>("marginAfter").words().contains(QString::fromStdString(core::numbers_of(*now).margin)));
    EXPECT_FALSE(find<WrappedText>("mendEffect").words().isEmpty());
    // The layout takes some rounds of events.
    EXPECT_TRUE(QTest::qWaitFor([&] { return trial.height() >= trial.layout()->totalHeightForWidth(trial.width()); }))
        << "nothing is cut off";
    press("putBackMend");
    EXPECT_FALSE(trial.isVisible());
    EXPECT_EQ(open_.job(), original);
    EXPECT_EQ(open_.history().index(), 0);
}

TEST_F(FindingsDeskTest, KeepsAMend) {
    list().open(mendable().id);
    find<QPushButton>("tryIt").click();
    press("keepMend");
    EXPECT_FALSE(find<MendTrial>("mendTrial").isVisible());
    EXPECT_EQ(open_.history().index(), 1);
    EXPECT_EQ(open_.history().undoText().toStdString(), "take mend of " + mendable().title);
}

TEST_F(FindingsDeskTest, DoesNotPutBackWhatWasDoneSince) {
    list().open(mendable().id);
    find<QPushButton>("tryIt").click();
    const std::string node = open_.job().skirt.pieces[0].drawn.sections[0].nodes[0].id;
    const core::Node& moved = open_.job().skirt.pieces[0].drawn.sections[0].nodes[0];
    ASSERT_TRUE(open_.apply(
        core::move_node(open_.job(), node, {geometry::in_mm(moved.out.value) + 1.0, geometry::in_mm(moved.up.value)})));
    EXPECT_FALSE(find<MendTrial>("mendTrial").isVisible());
    find<MendTrial>("mendTrial").put_back();
    EXPECT_EQ(open_.history().index(), 2) << "both steps stand";
}

TEST_F(FindingsDeskTest, SaysWhatIsStaleAndStops) {
    const std::string node = open_.job().skirt.pieces[0].drawn.sections[0].nodes[0].id;
    const core::Node& moved = open_.job().skirt.pieces[0].drawn.sections[0].nodes[0];
    ASSERT_TRUE(open_.apply(
        core::move_node(open_.job(), node, {geometry::in_mm(moved.out.value) + 1.0, geometry::in_mm(moved.up.value)})));
    EXPECT_TRUE(model().stale());
    EXPECT_TRUE(find<WrappedText>("findingStatus").words().contains("being computed")) << "said at once";
    EXPECT_GT(model().rowCount(), 0) << "the last good findings stay";
    auto& stop = find<QPushButton>("stopComputing");
    EXPECT_FALSE(stop.isVisible()) << "not for what is done in a moment";
    if (!QTest::qWaitFor([&] { return stop.isVisible() || open_.current(); }, k_patience_ms) || open_.current()) {
        GTEST_SKIP() << "this machine computed it before it could be stopped";
    }
    EXPECT_GE(stop.height(), 40);
    press("stopComputing");
    EXPECT_FALSE(stop.isVisible());
    EXPECT_TRUE(find<WrappedText>("findingStatus").words().contains("stopped"));
    EXPECT_TRUE(model().stale());
    EXPECT_TRUE(find<QPushButton>("computeAgain").isVisible());
    press("computeAgain");
    ASSERT_TRUE(QTest::qWaitFor([&] { return open_.current(); }, k_patience_ms));
    EXPECT_FALSE(model().stale());
    EXPECT_TRUE(find<WrappedText>("findingStatus").words().isEmpty());
    EXPECT_FALSE(find<QPushButton>("computeAgain").isVisible());
}

TEST_F(FindingsDeskTest, SaysHowNearItIsWhileDragging) {
    const core::Node node = open_.job().skirt.pieces[0].drawn.sections[2].nodes[1];
    ASSERT_TRUE(open_.begin_drag(node.id));
    open_.drag_to({geometry::in_mm(node.out.value), geometry::in_mm(node.up.value) - 0.5});
    ASSERT_TRUE(open_.drag_deviation());
    // The coarse mesh of a drag holds 0.1 mm: core::Drag::k_drag_deviation.
    EXPECT_EQ(find<WrappedText>("findingStatus").words(), "within 0.1 mm while dragging");
    EXPECT_FALSE(model().stale()) << "they follow the hand";
    EXPECT_FALSE(find<QPushButton>("tryIt").isEnabled());
    open_.put_back();
    EXPECT_TRUE(find<WrappedText>("findingStatus").words().isEmpty());
}

TEST(FindingsDesk, EffectOfAMendIsNamed) {
    EXPECT_EQ(effect_words({}), "Nothing else falls short because of it.");
    Finding one;
    one.title = "H3, reach of the flange";
    EXPECT_EQ(effect_words({one}), "This makes 1 finding fall short: H3, reach of the flange.");
    EXPECT_EQ(effect_words(std::vector<Finding>(6, one)),
              "This makes 6 findings fall short: H3, reach of the flange; H3, reach of the flange; H3, reach of the "
              "flange; H3, reach of the flange; and 2 more.");
}

}  // namespace
}  // namespace sillwright::app
