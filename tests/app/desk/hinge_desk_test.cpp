#include "app/desk/hinge_desk.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTest>

#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/desk/wrapped_text.h"
#include "core/edit/book_edit.h"

namespace sillwright::app {
namespace {

class HingeDeskTest : public testing::Test {
protected:
    HingeDeskTest() {
        core::Job job;
        job.doors.emplace_back().name = "front door";
        job.doors.emplace_back().name = "rear door";
        job = core::add_reading(job, "A T1/1 800").value().job;
        open_.open(job, {});
        desk_.show();
    }
    OpenJob open_;
    OpenBook book_{open_};
    HingeDesk desk_{book_};
    QLineEdit& targets_ = *desk_.findChild<QLineEdit*>("hingeTargets");
};

TEST_F(HingeDeskTest, SaysWhatToMeasureWhereThereIsNoAxis) {
    EXPECT_EQ(desk_.findChild<QComboBox*>("hingeDoor")->count(), 2);
    EXPECT_TRUE(desk_.findChild<WrappedText*>("hingeWords")->words().contains("three targets on front door"));
    EXPECT_EQ(desk_.findChild<QLabel*>("cornerSd")->text(), "No axis yet");
    QTest::mouseClick(desk_.findChild<QPushButton*>("keepHinge"), Qt::LeftButton);
    EXPECT_FALSE(desk_.findChild<QLabel*>("hingeRefusal")->text().isEmpty()) << "the book has no axis to keep";
}

TEST_F(HingeDeskTest, TargetsAreNamedAndLetGo) {
    QTest::keyClicks(&targets_, "T1 T2  T3");
    QTest::keyClick(&targets_, Qt::Key_Return);
    ASSERT_EQ(open_.job().book.hinges.size(), 1U);
    EXPECT_EQ(open_.job().book.hinges[0].door, "front door");
    EXPECT_EQ(open_.job().book.hinges[0].targets, (std::vector<std::string>{"T1", "T2", "T3"}));
    EXPECT_EQ(open_.history().count(), 1) << "once, though Enter ends the typing too";
    targets_.clear();
    QTest::keyClick(&targets_, Qt::Key_Return);
    EXPECT_TRUE(open_.job().book.hinges.empty());
}

}  // namespace
}  // namespace sillwright::app
