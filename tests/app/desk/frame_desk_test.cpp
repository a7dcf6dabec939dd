#include "app/desk/frame_desk.h"

#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QLabel>
#include <QPushButton>
#include <QTableView>
#include <QTest>

#include "app/desk/book_list_model.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"

namespace sillwright::app {
namespace {

class FrameDeskTest : public testing::Test {
protected:
    FrameDeskTest() {
        for (const char* name : {"pointsModel", "setUpsModel", "instrumentsModel"}) {
            auto* model = desk_.findChild<BookListModel*>(name);
            new QAbstractItemModelTester(model, QAbstractItemModelTester::FailureReportingMode::Fatal, model);
        }
        desk_.resize(820, 700);
        desk_.show();
    }
    void press(const char* name) { QTest::mouseClick(desk_.findChild<QPushButton*>(name), Qt::LeftButton); }
    QTableView& table(const char* name) { return *desk_.findChild<QTableView*>(name); }

    OpenJob open_;
    OpenBook book_{open_};
    FrameDesk desk_{book_};
};

TEST_F(FrameDeskTest, ATapeGetsItsClassAndHook) {
    EXPECT_TRUE(table("instrumentsTable").isHidden()) << "nothing in it";
    press("instrumentsAdd");
    auto* model = table("instrumentsTable").model();
    ASSERT_EQ(model->rowCount(), 1);
    EXPECT_TRUE(model->setData(model->index(0, 2), "II"));
    EXPECT_TRUE(model->setData(model->index(0, 3), "yes"));
    EXPECT_EQ(open_.job().book.instruments[0].tape_class, core::survey::TapeClass::ii);
    EXPECT_TRUE(open_.job().book.instruments[0].hook);
    EXPECT_FALSE(model->setData(model->index(0, 2), "IX"));
    EXPECT_TRUE(desk_.findChild<QLabel*>("instrumentsRefusal")->isVisible());
    EXPECT_EQ(open_.job().book.instruments[0].tape_class, core::survey::TapeClass::ii);
    table("instrumentsTable").selectRow(0);
    press("instrumentsDelete");
    EXPECT_TRUE(open_.job().book.instruments.empty());
}

TEST_F(FrameDeskTest, TwoSetUpsAreNamedForTheCarOnWheelsThenOnTheLift) {
    press("setUpsAdd");
    press("setUpsAdd");
    ASSERT_EQ(open_.job().book.set_ups.size(), 2U);
    EXPECT_EQ(open_.job().book.set_ups[0].name, "wheels");
    EXPECT_EQ(open_.job().book.set_ups[1].name, "lift");
    auto* model = table("setUpsTable").model();
    EXPECT_TRUE(model->setData(model->index(1, 2), "0.3"));
    EXPECT_NEAR(geometry::in_deg(*open_.job().book.set_ups[1].roll), 0.3, 1e-12);
    open_.history().undo();
    open_.history().undo();
    EXPECT_EQ(model->rowCount(), 1);
}

TEST_F(FrameDeskTest, MarksThatAreNotThereAreRefusedInWords) {
    press("takeMarks");
    EXPECT_FALSE(desk_.findChild<QLabel*>("frameSays")->text().isEmpty());
    EXPECT_EQ(open_.history().count(), 0);
}

}  // namespace
}  // namespace sillwright::app
