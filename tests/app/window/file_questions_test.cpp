#include "app/window/file_questions.h"

#include <gtest/gtest.h>

#include <QMessageBox>
#include <QPushButton>
#include <QTest>
#include <QTimer>
#include <QWidget>

namespace sillwright::app {
namespace {

class Dialogs : public testing::Test {
protected:
    /// Once the dialog of that name is open: presses its button, or Escape if the button has no name.
    void when_asked(const QString& name, const QString& button) {
        QTimer::singleShot(0, &window_, [this, name, button] {
            auto* box = window_.findChild<QMessageBox*>(name);
            ASSERT_NE(box, nullptr) << name.toStdString();
            text_ = box->text() + box->informativeText();
            for (const QAbstractButton* each : box->buttons()) {
                EXPECT_GE(each->height(), 40) << each->text().toStdString();
            }
            if (button.isEmpty()) {
                QTest::keyClick(box, Qt::Key_Escape);
            } else {
                box->findChild<QPushButton*>(button)->click();
            }
        });
    }

    QWidget window_;
    FileDialogs dialogs_{&window_};
    QString text_;
};

TEST_F(Dialogs, UnsavedChangesHaveThreeAnswersAndEscapeStays) {
    when_asked("unsavedChanges", "saveJob");
    EXPECT_EQ(dialogs_.leave("Estate <b>A</b>"), FileQuestions::Leaving::save);
    EXPECT_EQ(text_, "Estate <b>A</b> has changes that are not saved.");
    when_asked("unsavedChanges", "throwAway");
    EXPECT_EQ(dialogs_.leave("x"), FileQuestions::Leaving::throw_away);
    when_asked("unsavedChanges", "stay");
    EXPECT_EQ(dialogs_.leave("x"), FileQuestions::Leaving::stay);
    when_asked("unsavedChanges", "");
    EXPECT_EQ(dialogs_.leave("x"), FileQuestions::Leaving::stay);
}

TEST_F(Dialogs, KeptWorkHasThreeAnswersAndEscapePutsItOff) {
    when_asked("keptWork", "takeKept");
    EXPECT_EQ(dialogs_.kept("Sillwright ended.", true), FileQuestions::Kept::take);
    EXPECT_TRUE(text_.contains("deletes the unsaved changes"));
    when_asked("keptWork", "keepSaved");
    EXPECT_EQ(dialogs_.kept("Sillwright ended.", false), FileQuestions::Kept::keep_saved);
    when_asked("keptWork", "");
    EXPECT_EQ(dialogs_.kept("Sillwright ended.", true), FileQuestions::Kept::later);
}

TEST_F(Dialogs, NothingIsDoneWithoutAYes) {
    when_asked("goOn", "yes");
    EXPECT_TRUE(dialogs_.go_on("Shall it?", "Replace it"));
    when_asked("goOn", "no");
    EXPECT_FALSE(dialogs_.go_on("Shall it?", "Replace it"));
    when_asked("goOn", "");
    EXPECT_FALSE(dialogs_.go_on("Shall it?", "Replace it"));
    when_asked("said", "yes");
    dialogs_.say("The disk is full.");
    EXPECT_EQ(text_, "The disk is full.");
}

}  // namespace
}  // namespace sillwright::app
