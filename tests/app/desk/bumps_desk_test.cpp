#include "app/desk/bumps_desk.h"

#include <gtest/gtest.h>

#include <QPushButton>
#include <QTest>

#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/drawings/bumps_drawing.h"
#include "core/fairness.h"
#include "tests/app/link/estate.h"

// Estate A with its knee at station 5 drawn 3 mm further out than the sample has it: it was fair within 0.2 mm there.
namespace sillwright::app {
namespace {

using geometry::in_mm;
using geometry::millimetres;

class BumpsDeskTest : public testing::Test {
protected:
    BumpsDeskTest() {
        core::Job job = estate()->job;
        core::Node& knee = job.skirt.pieces[0].drawn.sections[4].nodes[4];
        EXPECT_EQ(knee.id, "s5.5");
        knee.out = {millimetres(153.1), ""};
        open_.open(job, {}, core::evaluate(job, {}).value());
        desk_.resize(900, 300);
        desk_.show();
    }

    OpenJob open_;
    Focus focus_;
    BumpsDesk desk_{open_, focus_};
};

TEST_F(BumpsDeskTest, ShowsTheBumpAndChoosesIt) {
    const BumpsPicture& picture = desk_.drawing().picture();
    ASSERT_EQ(picture.lines.size(), 20U) << "eight of the skirt, twelve of the body";
    const BumpsLine& knee = picture.lines[4];
    EXPECT_EQ(knee.name, "knee");
    ASSERT_EQ(knee.bumps.size(), 8U) << "ten stations, the ends have none";
    EXPECT_NEAR(knee.bumps[3].off_mm, 3.0, 0.2);
    QTest::mouseClick(&desk_.drawing(), Qt::LeftButton, {}, desk_.drawing().place_of("s5.5").toPoint());
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::node, "s5.5"}));
    EXPECT_EQ(focus_.along(), millimetres(850.0));
}

TEST_F(BumpsDeskTest, FairsTheChosenBumpInOneStep) {
    auto* fair = desk_.findChild<QPushButton*>("fairIt");
    EXPECT_FALSE(fair->isEnabled()) << "nothing is chosen";
    focus_.choose({Item::Kind::node, "s5.5"});
    ASSERT_TRUE(fair->isEnabled());
    const core::Job before = open_.job();
    QTest::mouseClick(fair, Qt::LeftButton);
    EXPECT_EQ(open_.history().count(), 1);
    const auto lines = core::fair_lines(open_.job(), {core::DrawnId::Kind::piece, 0, 0});
    EXPECT_NEAR(lines[4].bumps[3].size_mm(), 0.0, 1e-9);
    EXPECT_LT(lines[4].worst()->size_mm(), in_mm(core::k_fair_limit));
    EXPECT_FALSE(fair->isEnabled()) << "fair already";
    open_.history().undo();
    EXPECT_TRUE(open_.job() == before);
}

TEST_F(BumpsDeskTest, DoesNotMoveWhatIsMeasuredOnTheCar) {
    focus_.choose({Item::Kind::node, "b5.4"});
    EXPECT_FALSE(desk_.findChild<QPushButton*>("fairIt")->isEnabled());
}

TEST_F(BumpsDeskTest, IsWorkedByKeys) {
    focus_.choose({Item::Kind::node, "s5.5"});
    QTest::keyClick(&desk_.drawing(), Qt::Key_Right);
    EXPECT_EQ(focus_.chosen().id, "s6.5");
    QTest::keyClick(&desk_.drawing(), Qt::Key_Up);
    EXPECT_EQ(focus_.chosen().id, "s6.4");
}

}  // namespace
}  // namespace sillwright::app
