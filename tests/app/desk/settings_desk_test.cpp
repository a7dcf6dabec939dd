#include "app/desk/settings_desk.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QTest>

#include "app/desk/open_job.h"
#include "tests/app/link/estate.h"

namespace sillwright::app {
namespace {

class SettingsDeskTest : public testing::Test {
protected:
    SettingsDeskTest() {
        const auto estate_a = estate();
        core::Job job = estate_a->job;
        job.fitting = {};
        open_.open(job, {}, estate_a);
        desk_.resize(900, 500);
        desk_.show();
    }
    [[nodiscard]] QLineEdit* field(const char* name) { return desk_.findChild<QLineEdit*>(QLatin1String(name)); }
    void type(QLineEdit* where, const QString& text) {
        where->selectAll();
        QTest::keyClicks(where, text);
        QTest::keyClick(where, Qt::Key_Return);
    }

    OpenJob open_;
    SettingsDesk desk_{open_, core::SettingGroup::fitting};
};

TEST_F(SettingsDeskTest, WhatIsTypedIsInTheJobAndCanBeUndone) {
    QLineEdit* hot = field("setting_fitting_hot_part_c");
    ASSERT_NE(hot, nullptr);
    EXPECT_EQ(hot->text(), QString());
    type(hot, QStringLiteral("80"));
    ASSERT_TRUE(open_.job().fitting.hot);
    EXPECT_EQ(open_.job().fitting.hot->part, geometry::celsius(80.0));
    open_.history().undo();
    EXPECT_FALSE(open_.job().fitting.hot);
    EXPECT_EQ(hot->text(), QString());
}

TEST_F(SettingsDeskTest, ARefusedTextStaysWithTheReason) {
    QLineEdit* half = field("setting_fitting_part_half");
    type(half, QStringLiteral("-1"));
    const auto* refusal = desk_.findChild<QLabel*>("settingRefusal");
    EXPECT_TRUE(refusal->isVisible());
    EXPECT_TRUE(refusal->text().contains(QStringLiteral("drilling")));
    EXPECT_EQ(half->text(), QStringLiteral("-1"));
    EXPECT_FALSE(open_.job().fitting.part_half);
    type(half, QStringLiteral("0.5"));
    EXPECT_FALSE(refusal->isVisible());
    EXPECT_TRUE(open_.job().fitting.part_half);
}

TEST_F(SettingsDeskTest, AChoiceIsWrittenAndFollowsTheJob) {
    auto* locator = desk_.findChild<QComboBox*>("setting_fitting_locator");
    ASSERT_NE(locator, nullptr);
    EXPECT_EQ(locator->count(), 10) << "nine mounts, and none";
    const int h5 = locator->findData(QStringLiteral("H5"));
    locator->setCurrentIndex(h5);
    emit locator->activated(h5);
    EXPECT_EQ(open_.job().fitting.locator, "H5");
    open_.history().undo();
    EXPECT_EQ(locator->currentIndex(), 0);
}

}  // namespace
}  // namespace sillwright::app
