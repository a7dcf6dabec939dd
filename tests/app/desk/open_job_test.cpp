#include "app/desk/open_job.h"

#include <gtest/gtest.h>

#include <QSignalSpy>
#include <QTest>

#include "core/edit/node_edit.h"
#include "core/job_file.h"

namespace sillwright::app {
namespace {

constexpr int k_patience = 60'000;  ///< Milliseconds; a busy machine may need some of them.

core::Job sample() {
    return core::read_job(SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright").value();
}

class Open : public testing::Test {
protected:
    Open() { open_.open(job_, SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright"); }

    bool wait() {
        return QTest::qWaitFor([this] { return !open_.computing(); }, k_patience);
    }
    const core::Node& node() const { return open_.job().skirt.pieces[0].drawn.sections[3].nodes[2]; }
    Eigen::Vector2d beside(double by) const {
        return {geometry::in_mm(node().out.value) + by, geometry::in_mm(node().up.value)};
    }

    core::Job job_ = sample();
    OpenJob open_;
};

TEST_F(Open, ComputesOffTheThreadAndSaysWhenItIsCurrent) {
    EXPECT_TRUE(open_.computing());
    EXPECT_FALSE(open_.current());
    ASSERT_TRUE(wait());
    EXPECT_TRUE(open_.current());
    EXPECT_FALSE(open_.results()->findings.empty());
    EXPECT_FALSE(open_.changed());
}

TEST_F(Open, AnEditIsOneStepAndUndoBringsBackTheSameValue) {
    ASSERT_TRUE(wait());
    ASSERT_TRUE(open_.apply(core::move_node(open_.job(), node().id, beside(1.0))));
    EXPECT_EQ(open_.history().count(), 1);
    EXPECT_EQ(open_.history().undoText(),
              QString("move %1 at station %2")
                  .arg(QString::fromStdString(node().name),
                       QString::fromStdString(job_.skirt.pieces[0].drawn.sections[3].station)));
    EXPECT_TRUE(open_.changed());
    EXPECT_FALSE(open_.current()) << "the results are of the job before";
    open_.history().undo();
    EXPECT_EQ(core::job_text(open_.job()), core::job_text(job_));
    EXPECT_TRUE(open_.current()) << "what was computed is that of this value";
    EXPECT_FALSE(open_.changed());
}

TEST_F(Open, ARefusedEditChangesNothing) {
    const QSignalSpy refused(&open_, &OpenJob::refused);
    EXPECT_FALSE(open_.apply(core::move_node(open_.job(), "no such node", {0.0, 0.0})));
    EXPECT_EQ(refused.count(), 1);
    EXPECT_EQ(open_.history().count(), 0);
    EXPECT_EQ(open_.job(), job_);
}

TEST_F(Open, ADragFollowsTheHandAndIsOneStep) {
    ASSERT_TRUE(wait());
    const std::string id = node().id;
    ASSERT_TRUE(open_.begin_drag(id));
    for (const double by : {0.5, 1.0, 1.5}) {
        const Eigen::Vector2d to(geometry::in_mm(job_.skirt.pieces[0].drawn.sections[3].nodes[2].out.value) + by,
                                 geometry::in_mm(job_.skirt.pieces[0].drawn.sections[3].nodes[2].up.value));
        open_.drag_to(to);
        EXPECT_DOUBLE_EQ(geometry::in_mm(node().out.value), to.x());
        EXPECT_TRUE(open_.current());
        EXPECT_TRUE(open_.drag_deviation());
    }
    open_.drop();
    EXPECT_EQ(open_.history().count(), 1);
    EXPECT_TRUE(open_.results()) << "what followed the hand stays until the full tolerance is there";
    ASSERT_TRUE(wait());
    EXPECT_TRUE(open_.current());
    EXPECT_FALSE(open_.drag_deviation());
    open_.history().undo();
    EXPECT_EQ(open_.job(), job_);
}

TEST_F(Open, PuttingBackMakesNoStep) {
    ASSERT_TRUE(wait());
    ASSERT_TRUE(open_.begin_drag(node().id));
    open_.drag_to(beside(2.0));
    open_.put_back();
    EXPECT_EQ(open_.job(), job_);
    EXPECT_EQ(open_.history().count(), 0);
    EXPECT_TRUE(open_.current());
}

TEST_F(Open, ANodeOfTheBodyIsDraggedToo) {
    ASSERT_TRUE(wait());
    const core::Node body_node = job_.body.sections[2].nodes[1];
    ASSERT_TRUE(open_.begin_drag(body_node.id));
    const Eigen::Vector2d to(geometry::in_mm(body_node.out.value) + 1.0, geometry::in_mm(body_node.up.value));
    open_.drag_to(to);
    EXPECT_DOUBLE_EQ(geometry::in_mm(open_.job().body.sections[2].nodes[1].out.value), to.x());
    EXPECT_FALSE(open_.current()) << "its results come after the drop";
    open_.drop();
    ASSERT_TRUE(wait());
    EXPECT_TRUE(open_.current());
}

TEST_F(Open, StoppingLeavesStaleResultsAndComputingBringsThem) {
    open_.stop_computing();
    EXPECT_FALSE(open_.computing());
    EXPECT_FALSE(open_.current());
    open_.compute();
    ASSERT_TRUE(wait());
    EXPECT_TRUE(open_.current());
}

}  // namespace
}  // namespace sillwright::app
