#include "app/desk/compare_desk.h"

#include <gtest/gtest.h>

#include <QLabel>
#include <QLineEdit>
#include <QTest>

#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/drawings/differences_drawing.h"

namespace sillwright::app {
namespace {

TEST(CompareDesk, NamesTheOtherSidesJobAndSaysWhatIsMissing) {
    OpenJob open;
    OpenBook book(open);
    CompareDesk desk(book);
    desk.show();
    EXPECT_EQ(desk.sides().picture().verdict, "not compared yet");
    EXPECT_EQ(desk.set_ups().picture().verdict, "not compared yet");
    auto& other = *desk.findChild<QLineEdit*>("otherHand");
    QTest::keyClicks(&other, "left.sillwright");
    QTest::keyClick(&other, Qt::Key_Return);
    EXPECT_EQ(open.job().other_hand, "left.sillwright");
    EXPECT_TRUE(QString::fromStdString(desk.sides().picture().words).contains("left.sillwright"))
        << "there is no such file: " << desk.sides().picture().words;
    other.setText("../../elsewhere.sillwright");
    QTest::keyClick(&other, Qt::Key_Return);
    EXPECT_EQ(open.history().count(), 1) << "out of the job's folder is refused";
    EXPECT_FALSE(desk.findChild<QLabel*>("otherHandRefusal")->text().isEmpty());
}

}  // namespace
}  // namespace sillwright::app
