#include "app/desk/history_desk.h"

#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QTest>
#include <QUndoView>

#include "app/desk/open_job.h"

namespace sillwright::app {
namespace {

core::Job named(const std::string& vehicle) {
    core::Job job;
    job.vehicle = vehicle;
    return job;
}

TEST(HistoryDesk, PressingAStepGoesThere) {
    OpenJob open;
    open.open(named("as opened"), {});
    HistoryDesk desk(open);
    auto* steps = desk.findChild<QUndoView*>("history");
    ASSERT_NE(steps, nullptr);
    const QAbstractItemModelTester contract(steps->model(), QAbstractItemModelTester::FailureReportingMode::Fatal);
    open.apply(core::Edit{named("first"), "call it first"});
    open.apply(core::Edit{named("second"), "call it second"});
    desk.resize(400, 300);
    desk.show();
    ASSERT_EQ(steps->model()->rowCount(), 3);
    EXPECT_EQ(steps->model()->index(0, 0).data().toString(), "the job as it was opened");
    EXPECT_EQ(steps->model()->index(2, 0).data().toString(), "call it second");
    EXPECT_GE(steps->visualRect(steps->model()->index(1, 0)).height(), 40);
    QTest::mouseClick(steps->viewport(), Qt::LeftButton, {}, steps->visualRect(steps->model()->index(1, 0)).center());
    EXPECT_EQ(open.job(), named("first"));
    QTest::mouseClick(steps->viewport(), Qt::LeftButton, {}, steps->visualRect(steps->model()->index(0, 0)).center());
    EXPECT_EQ(open.job(), named("as opened"));
    QTest::mouseClick(steps->viewport(), Qt::LeftButton, {}, steps->visualRect(steps->model()->index(2, 0)).center());
    EXPECT_EQ(open.job(), named("second"));
}

}  // namespace
}  // namespace sillwright::app
