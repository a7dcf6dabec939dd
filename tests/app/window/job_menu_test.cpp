#include "app/window/job_menu.h"

#include <gtest/gtest.h>

#include <QAction>
#include <QMenu>
#include <QPushButton>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>
#include <QWidget>
#include <fstream>

#include "app/desk/open_job.h"
#include "app/window/file_questions.h"
#include "app/window/job_files.h"
#include "app/window/new_job_dialog.h"
#include "core/job_file.h"

namespace sillwright::app {
namespace {

namespace fs = std::filesystem;

TEST(JobMenu, OpensRecentJobsAndGreysWhatIsMissing) {
    const QTemporaryDir dir;
    const fs::path top = dir.path().toStdString();
    ASSERT_TRUE(core::save_job({}, top / "A & B.sillwright"));
    QWidget window;
    FileDialogs questions(&window);
    OpenJob open;
    JobFiles files(open, questions, {dir.filePath("settings.ini"), top / "own"});
    QMenu menu;
    add_job_actions(menu, files, window);
    auto* recent = menu.findChild<QMenu*>("openRecent");
    ASSERT_NE(recent, nullptr);
    emit recent->aboutToShow();
    ASSERT_EQ(recent->actions().size(), 1);
    EXPECT_FALSE(recent->actions()[0]->isEnabled());
    files.recent().add(top / "gone.sillwright");
    files.recent().add(top / "A & B.sillwright");
    emit recent->aboutToShow();
    ASSERT_EQ(recent->actions().size(), 2);
    EXPECT_TRUE(recent->actions()[0]->text().startsWith("A && B.sillwright"));
    EXPECT_FALSE(recent->actions()[1]->isEnabled());
    EXPECT_TRUE(recent->actions()[1]->text().contains("missing"));
    recent->actions()[0]->trigger();
    EXPECT_EQ(open.file(), top / "A & B.sillwright");
}

TEST(JobMenu, MakesANewJobThatIsNotSavedYet) {
    const QTemporaryDir dir;
    const fs::path top = dir.path().toStdString();
    QWidget window;
    FileDialogs questions(&window);
    OpenJob open;
    JobFiles files(open, questions, {dir.filePath("settings.ini"), top / "own"});
    QMenu menu;
    add_job_actions(menu, files, window);
    QTimer::singleShot(0, &window, [&window] {
        auto* dialog = window.findChild<NewJobDialog*>("newJobDialog");
        ASSERT_NE(dialog, nullptr);
        dialog->findChild<QPushButton*>("newLeft")->click();
        dialog->findChild<QPushButton*>("makeJob")->click();
    });
    menu.findChild<QAction*>("newJob")->trigger();
    EXPECT_EQ(open.job().side, core::Side::left);
    EXPECT_TRUE(open.changed());
    EXPECT_TRUE(open.file().empty());
    for (const char* name : {"newJob", "open", "save", "saveAs"}) {
        EXPECT_FALSE(menu.findChild<QAction*>(name)->shortcut().isEmpty()) << name;
    }
}

}  // namespace
}  // namespace sillwright::app
