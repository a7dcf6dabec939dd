#include "app/desk/flange_desk.h"

#include <gtest/gtest.h>

#include <QLabel>
#include <QPushButton>
#include <QSlider>
#include <QTest>
#include <algorithm>

#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/drawings/flange_drawing.h"
#include "tests/app/link/estate.h"

namespace sillwright::app {
namespace {

using geometry::millimetres;

class FlangeDeskTest : public testing::Test {
protected:
    FlangeDeskTest() {
        const auto estate_a = estate();
        open_.open(estate_a->job, {}, estate_a);
        desk_.resize(1400, 460);
        desk_.show();
    }
    [[nodiscard]] const core::Mount& mount(const std::string& name) const {
        const auto& mounts = open_.job().mounts;
        return *std::find_if(mounts.begin(), mounts.end(), [&](const core::Mount& one) { return one.name == name; });
    }

    OpenJob open_;
    Focus focus_;
    FlangeDesk desk_{open_, focus_};
};

TEST_F(FlangeDeskTest, ShowsEveryMountOfTheFlangeFrontToRear) {
    const auto& holes = desk_.drawing().picture().holes;
    ASSERT_EQ(holes.size(), 9U);
    EXPECT_EQ(holes.front().mount, "H1");
    EXPECT_EQ(holes.back().mount, "H9");
    EXPECT_TRUE(desk_.drawing().picture().warmth);
    EXPECT_GT(holes.back().hot_mm, 0.0) << "a hot part is longer than its car";
    EXPECT_LT(holes.front().hot_mm, 0.0);
}

TEST_F(FlangeDeskTest, TheSliderMovesThePartAndSaysHowWarmItIs) {
    const QPointF before = desk_.drawing().place_of("H9");
    auto* slider = desk_.findChild<QSlider*>("warmthSlider");
    slider->setValue(slider->maximum());
    EXPECT_GT(desk_.drawing().place_of("H9").x(), before.x());
    EXPECT_TRUE(desk_.findChild<QLabel*>("warmthWords")->text().contains(QStringLiteral("°C")));
    slider->setValue(0);
    EXPECT_EQ(desk_.drawing().place_of("H9"), before);
}

TEST_F(FlangeDeskTest, AHoleThatIsDraggedIsOneStepOfTheHistory) {
    const core::Job before = open_.job();
    emit desk_.drawing().taken("H9");
    ASSERT_TRUE(open_.dragging());
    emit desk_.drawing().dragged(2.04);
    EXPECT_TRUE(open_.current()) << "what is asked of the hole follows the hand";
    EXPECT_NEAR(desk_.drawing().picture().holes.back().drawn_shift_mm, 2.0, 1e-9) << "on tenths of a millimetre";
    emit desk_.drawing().dragged(3.5);
    emit desk_.drawing().dropped();
    EXPECT_EQ(open_.history().count(), 1);
    EXPECT_EQ(mount("H9").part_shift->value, millimetres(3.5));
    open_.history().undo();
    EXPECT_TRUE(open_.job() == before);
}

TEST_F(FlangeDeskTest, ADragThatIsPutBackChangesNothing) {
    const core::Job before = open_.job();
    emit desk_.drawing().taken("H1");
    emit desk_.drawing().dragged(-3.0);
    emit desk_.drawing().put_back();
    EXPECT_TRUE(open_.job() == before);
    EXPECT_EQ(open_.history().count(), 0);
}

TEST_F(FlangeDeskTest, MakesTheChosenHoleAsItIsNeeded) {
    core::Job job = open_.job();
    const auto h4 =
        std::find_if(job.mounts.begin(), job.mounts.end(), [](const auto& one) { return one.name == "H4"; });
    h4->part_slot = core::Entry{millimetres(6.6), ""};
    open_.open(job, {}, core::evaluate(job, {}).value());
    focus_.choose({Item::Kind::mount, "H4"});
    auto* make = desk_.findChild<QPushButton*>("makeAsPlanned");
    ASSERT_TRUE(make->isEnabled());
    const core::HolePlan plan = *open_.results()->plan.find("H4");
    QTest::mouseClick(make, Qt::LeftButton);
    EXPECT_EQ(mount("H4").part_slot->value, millimetres(plan.cut.length_mm));
    EXPECT_EQ(mount("H4").part_hole->value, millimetres(plan.cut.width_mm));
}

TEST_F(FlangeDeskTest, PressingAPaneGoesThere) {
    QTest::mouseClick(&desk_.drawing(), Qt::LeftButton, {},
                      (desk_.drawing().pane_of("H3").topLeft() + QPointF(12.0, 12.0)).toPoint());
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::mount, "H3"}));
    EXPECT_NEAR(geometry::in_mm(*focus_.along()), 545.6, 1.0);
    EXPECT_TRUE(desk_.findChild<QLabel*>("holeWords")->text().startsWith(QStringLiteral("H3 needs")));
}

}  // namespace
}  // namespace sillwright::app
