#include "app/window/new_job_dialog.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSpinBox>
#include <QTest>

#include "core/job_file.h"

namespace sillwright::app {
namespace {

using geometry::in_mm;

class NewJob : public testing::Test {
protected:
    NewJob() {
        dialog_.show();
        dialog_.activateWindow();
        EXPECT_TRUE(QTest::qWaitForWindowActive(&dialog_));
    }

    void press(const QString& name) { QTest::mouseClick(dialog_.findChild<QPushButton*>(name), Qt::LeftButton); }
    void type(const QString& name, const QString& text) {
        auto* edit = dialog_.findChild<QLineEdit*>(name);
        edit->clear();
        QTest::keyClicks(edit, text);
    }
    QString fault(const QString& name) const {
        const auto* label = dialog_.findChild<QLabel*>(name);
        return label->isVisible() ? label->text() : QString();
    }

    NewJobDialog dialog_;
};

TEST_F(NewJob, AsksForTheSideFirst) {
    press("makeJob");
    EXPECT_TRUE(dialog_.isVisible());
    EXPECT_TRUE(fault("newJobFault").contains("RIGHT SIDE"));
    EXPECT_FALSE(dialog_.job());
    press("newLeft");
    EXPECT_EQ(dialog_.findChild<QPushButton*>("newLeft")->text(), "✓ LEFT SIDE");
    press("newRight");
    EXPECT_EQ(dialog_.findChild<QPushButton*>("newLeft")->text(), "LEFT SIDE") << "one of the two";
    press("makeJob");
    EXPECT_FALSE(dialog_.isVisible());
    ASSERT_TRUE(dialog_.job());
    EXPECT_EQ(dialog_.job()->side, core::Side::right);
}

TEST_F(NewJob, WhatIsNotKnownMayBeLeftOut) {
    press("newLeft");
    type("newVehicle", "Van C");
    press("makeJob");
    ASSERT_TRUE(dialog_.job());
    EXPECT_EQ(dialog_.job()->side, core::Side::left);
    EXPECT_EQ(dialog_.job()->vehicle, "Van C");
    EXPECT_TRUE(dialog_.job()->stations.empty());
    EXPECT_TRUE(core::parse_job(core::job_text(*dialog_.job()), "new").has_value()) << "it can be saved and read";
}

TEST_F(NewJob, StationsDoorsAndSheetAreTaken) {
    press("newRight");
    dialog_.findChild<QComboBox*>("newUnit")->setCurrentIndex(2);  // inches
    type("newFirst", "4");
    type("newLast", "60");
    dialog_.findChild<QSpinBox*>("newStations")->setValue(8);
    dialog_.findChild<QSpinBox*>("newDoors")->setValue(2);
    type("newSheet", "3 mm");
    press("makeJob");
    ASSERT_TRUE(dialog_.job()) << fault("newJobFault").toStdString();
    const core::Job& job = *dialog_.job();
    EXPECT_EQ(job.unit, core::BareUnit::in);
    ASSERT_EQ(job.stations.size(), 8U);
    EXPECT_NEAR(in_mm(job.stations.front().along.value), 4 * 25.4, 1e-9);
    EXPECT_NEAR(in_mm(job.stations[1].along.value), 12 * 25.4, 1e-9);
    EXPECT_NEAR(in_mm(job.stations.back().along.value), 60 * 25.4, 1e-9);
    EXPECT_EQ(job.doors.size(), 2U);
}

TEST_F(NewJob, ANumberThatCannotBeReadIsToldBesideItsField) {
    press("newRight");
    type("newFirst", "82 mmm");
    type("newSheet", "thick");
    press("makeJob");
    EXPECT_TRUE(dialog_.isVisible());
    EXPECT_TRUE(fault("newFirstFault").contains("mmm"));
    EXPECT_FALSE(fault("newSheetFault").isEmpty());
    EXPECT_EQ(fault("newLastFault"), "");
    EXPECT_EQ(dialog_.findChild<QLineEdit*>("newFirst")->text(), "82 mmm") << "nothing typed is lost";
    EXPECT_TRUE(dialog_.findChild<QLineEdit*>("newFirst")->hasFocus());
    type("newFirst", "82");
    type("newSheet", "");
    press("makeJob");
    EXPECT_EQ(fault("newFirstFault"), "");
}

TEST_F(NewJob, EveryControlIsLargeAndNamed) {
    for (const QWidget* widget : dialog_.findChildren<QWidget*>()) {
        if (widget->objectName().startsWith("new") && widget->focusPolicy() != Qt::NoFocus) {
            EXPECT_GE(widget->height(), 40) << widget->objectName().toStdString();
            EXPECT_FALSE(widget->accessibleName().isEmpty()) << widget->objectName().toStdString();
        }
    }
    EXPECT_GE(dialog_.findChild<QPushButton*>("newRight")->font().pixelSize(), 22);
}

}  // namespace
}  // namespace sillwright::app
