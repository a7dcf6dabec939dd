#include "app/desk/handover_desk.h"

#include <gtest/gtest.h>

#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QSignalSpy>
#include <QTest>

#include "app/desk/open_job.h"
#include "app/looks.h"
#include "tests/app/link/buck_by_hand.h"

namespace sillwright::app {
namespace {

class HandoverDeskTest : public testing::Test {
protected:
    HandoverDeskTest() {
        desk_.resize(930, 600);
        desk_.show();
    }
    void open() {
        const std::shared_ptr<const core::Evaluation> made = bucked_by_hand();
        open_.open(made->job, {}, made);
    }
    QString text(const char* name) { return desk_.findChild<QLabel*>(name)->text(); }
    QPushButton& button(const char* name) { return *desk_.findChild<QPushButton*>(name); }

    OpenJob open_;
    HandoverDesk desk_{open_, nullptr, [](const core::Evaluation&) {
                           return std::vector<FolderItem>{
                               {"Fitting sheet", "for the installer", InFolder::there, {}},
                               {"Ladder", "for the moulder", InFolder::in_part, {"the paint's film"}},
                               {"Trim line, 1:1", "for the driller", InFolder::missing, {"the <flange> is not drawn"}}};
                       }};
};

TEST_F(HandoverDeskTest, ListsWhatTheFolderWillHoldAndWhatIsMissing) {
    EXPECT_TRUE(text("folderItems").contains("Nothing is computed yet."));
    open();
    ASSERT_TRUE(QTest::qWaitFor([&] { return text("folderItems").contains("Fitting sheet"); }, 60'000));
    const QString words = text("folderItems");
    EXPECT_TRUE(words.contains("one thing is missing"));
    EXPECT_TRUE(words.contains("for the installer"));
    EXPECT_TRUE(words.contains("the paint's film"));
    EXPECT_TRUE(words.contains("the &lt;flange&gt; is not drawn")) << "words are no mark-up";
    EXPECT_TRUE(words.contains("— <b>missing</b>"));
}

TEST_F(HandoverDeskTest, ListsFindingsThatAreOpen) {
    open();
    const QString words = text("openFindings");
    EXPECT_TRUE(words.contains("falls short")) << words.toStdString();
    EXPECT_FALSE(words.contains("close: ")) << "what holds by little is not open";
}

TEST_F(HandoverDeskTest, ShapesHaveTheColoursOfTheTone) {
    open();
    ASSERT_TRUE(QTest::qWaitFor([&] { return text("folderItems").contains("Fitting sheet"); }, 60'000));
    for (const looks::Tone tone : {looks::Tone::dark, looks::Tone::light}) {
        desk_.setPalette(looks::palette(tone));
        EXPECT_TRUE(text("folderItems").contains(looks::shape_colour(core::State::holds, tone).name()));
        EXPECT_TRUE(text("openFindings").contains(looks::shape_colour(core::State::falls_short, tone).name()));
    }
}

TEST_F(HandoverDeskTest, WritingIsFollowedAndCanBeStopped) {
    open();
    const QSignalSpy wanted(&desk_, &HandoverDesk::write_wanted);
    const QSignalSpy stop(&desk_, &HandoverDesk::stop_wanted);
    EXPECT_FALSE(button("stopHandover").isVisible());
    EXPECT_FALSE(button("openHandover").isVisible());
    button("writeHandover").click();
    EXPECT_EQ(wanted.count(), 1);
    desk_.show_begun();
    EXPECT_FALSE(button("writeHandover").isEnabled());
    EXPECT_TRUE(desk_.findChild<QProgressBar*>("handoverProgress")->isVisible());
    desk_.show_progress(0.25);
    EXPECT_EQ(desk_.findChild<QProgressBar*>("handoverProgress")->value(), 250);
    button("stopHandover").click();
    EXPECT_EQ(stop.count(), 1);
    desk_.show_stopping();
    EXPECT_FALSE(button("stopHandover").isEnabled());
    desk_.show_failure(QStringLiteral("Stopped: nothing was written."));
    EXPECT_EQ(text("handoverResult"), QStringLiteral("Stopped: nothing was written."));
    EXPECT_TRUE(button("writeHandover").isEnabled());
    EXPECT_FALSE(button("openHandover").isVisible()) << "there is none";
}

TEST_F(HandoverDeskTest, AWrittenFolderIsNamedAndCanBeOpened) {
    open();
    const QSignalSpy opened(&desk_, &HandoverDesk::open_wanted);
    desk_.show_begun();
    desk_.show_written("/tmp/estate-handover", {"All sizes are those of the part.", "two", "three", "four"});
    EXPECT_TRUE(text("handoverResult").startsWith("Written: /tmp/estate-handover"));
    EXPECT_TRUE(text("handoverResult").contains("All sizes"));
    EXPECT_TRUE(text("handoverResult").contains("2 more in READ ME FIRST"));
    button("openHandover").click();
    ASSERT_EQ(opened.count(), 1);
    EXPECT_EQ(opened.first().first().toString(), QStringLiteral("/tmp/estate-handover"));
    open();
    EXPECT_FALSE(button("openHandover").isVisible()) << "that was another job's";
}

}  // namespace
}  // namespace sillwright::app
