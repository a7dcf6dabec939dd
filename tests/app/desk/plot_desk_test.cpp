#include "app/desk/plot_desk.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QTest>
#include <cmath>
#include <memory>

#include "app/desk/focus.h"
#include "app/desk/item.h"
#include "app/desk/open_job.h"
#include "app/drawings/clearance_plot.h"
#include "core/edit/node_edit.h"
#include "tests/app/link/estate.h"

namespace sillwright::app {
namespace {

using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;

constexpr int k_patience_ms = 120000;

class PlotDeskTest : public testing::Test {
protected:
    static void SetUpTestSuite() { results_ = estate(); }
    static void TearDownTestSuite() { results_.reset(); }

    void SetUp() override {
        open_.open(results_->job, SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright", results_);
        desk_.resize(330, 290);
        desk_.show();
    }
    [[nodiscard]] const ClearancePicture& picture() { return desk_.plot().picture(); }
    [[nodiscard]] bool lines_come() {
        return QTest::qWaitFor([&] { return !picture().lines.empty() && !picture().old_lines; }, k_patience_ms);
    }

    static inline std::shared_ptr<const core::Evaluation> results_;
    OpenJob open_;
    Focus focus_;
    PlotDesk desk_{open_, focus_};
};

TEST_F(PlotDeskTest, ShowsTheDoorOfTheWorstFinding) {
    for (const core::Finding& finding : results_->findings) {
        if (!finding.place.door.empty()) {
            EXPECT_EQ(desk_.door(), finding.place.door);
            break;
        }
    }
    ASSERT_TRUE(lines_come());
    EXPECT_EQ(picture().door, desk_.door());
    ASSERT_FALSE(picture().marks.empty());
    for (const core::Finding& finding : results_->findings) {
        if (finding.id == "swing/" + desk_.door() + "/moving") {
            EXPECT_EQ(in_mm(picture().marks[0].least), std::max(0.0, *finding.found));
            EXPECT_EQ(picture().marks[0].at, *finding.place.door_angle);
        }
    }
    EXPECT_FALSE(desk_.plot().accessibleDescription().isEmpty());
}

TEST_F(PlotDeskTest, FollowsTheDoorThatIsTurnedOrChosen) {
    const std::string first = results_->job.doors.front().name;
    const std::string last = results_->job.doors.back().name;
    ASSERT_NE(first, last);
    focus_.turn_door(last, degrees(12.0));
    EXPECT_EQ(desk_.door(), last);
    EXPECT_NEAR(in_deg(picture().opening), 12.0, 1e-9);
    focus_.choose({Item::Kind::finding, "swing/" + first + "/moving"});
    EXPECT_EQ(desk_.door(), first);
    auto* doors = desk_.findChild<QComboBox*>(QStringLiteral("plotDoor"));
    ASSERT_NE(doors, nullptr);
    EXPECT_EQ(doors->currentText().toStdString(), first);
    EXPECT_GE(doors->height(), 40);
    doors->setCurrentText(QString::fromStdString(last));
    EXPECT_EQ(desk_.door(), last);
    ASSERT_TRUE(lines_come());
    focus_.choose({Item::Kind::door, first});
    EXPECT_TRUE(picture().lines.empty()) << "never the curve of another door";
    ASSERT_TRUE(lines_come());
}

TEST_F(PlotDeskTest, PressingTurnsTheDoorToWithinAPixel) {
    ASSERT_TRUE(lines_come());
    auto& plot = desk_.plot();
    const ClearanceScale scale = *clearance_scale(picture(), plot.size());
    const double pixel_deg = in_deg(picture().stop) / scale.field.width();
    const QPoint at(static_cast<int>(std::lround(scale.x_of(degrees(30.0)))),
                    static_cast<int>(scale.field.center().y()));
    QTest::mouseClick(&plot, Qt::LeftButton, {}, at);
    EXPECT_NEAR(in_deg(focus_.opening(desk_.door())), 30.0, pixel_deg);
    EXPECT_EQ(picture().opening, focus_.opening(desk_.door()));
}

TEST_F(PlotDeskTest, SaysWhatIsOfAnEarlierState) {
    ASSERT_TRUE(lines_come());
    const core::Node& node = open_.job().skirt.pieces[0].drawn.sections[0].nodes[0];
    ASSERT_TRUE(open_.apply(
        core::move_node(open_.job(), std::string(node.id), {in_mm(node.out.value) + 0.5, in_mm(node.up.value)})));
    EXPECT_TRUE(picture().old_lines);
    EXPECT_TRUE(picture().old_marks);
    EXPECT_FALSE(picture().lines.empty()) << "the old curve stays, paler";
    open_.history().undo();
    EXPECT_FALSE(picture().old_marks);
    EXPECT_TRUE(lines_come());
}

}  // namespace
}  // namespace sillwright::app
