#include "app/window/job_menu.h"

#include <QAction>
#include <QCoreApplication>
#include <QFile>
#include <QKeySequence>
#include <QMenu>
#include <functional>
#include <utility>

#include "app/window/job_files.h"
#include "app/window/new_job_dialog.h"

namespace sillwright::app {

namespace {

QString tr(const char* text) {
    return QCoreApplication::translate("JobMenu", text);
}

void add(QMenu& menu, const QString& name, const QString& text, QKeySequence::StandardKey key, QObject& context,
         std::function<void()> act) {
    QAction* action = menu.addAction(text);
    action->setObjectName(name);
    action->setShortcut(key);
    if (key == QKeySequence::SaveAs && action->shortcut().isEmpty()) {  // not every desktop has one
        action->setShortcut(QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_S));
    }
    QObject::connect(action, &QAction::triggered, &context, std::move(act));
}

void make_new_job(JobFiles& files, QWidget& window) {
    if (!files.leave()) {
        return;
    }
    NewJobDialog dialog(&window);
    if (dialog.exec() == QDialog::Accepted && dialog.job()) {
        files.show_without_file(*dialog.job(), true);
    }
}

void list_recent(QMenu& menu, JobFiles& files) {
    menu.clear();
    for (const RecentJobs::Entry& entry : files.recent().list()) {
        const QString name = QFile::decodeName(entry.file.filename().c_str()).replace(u'&', QStringLiteral("&&"));
        const QString folder = QFile::decodeName(entry.file.parent_path().c_str()).replace(u'&', QStringLiteral("&&"));
        QAction* action = menu.addAction(entry.there ? tr("%1 · in %2").arg(name, folder)
                                                     : tr("%1 · missing from %2").arg(name, folder));
        action->setEnabled(entry.there);
        QObject::connect(action, &QAction::triggered, &files, [&files, file = entry.file] { files.open(file); });
    }
    if (menu.isEmpty()) {
        menu.addAction(tr("No job was opened yet"))->setEnabled(false);
    }
}

}  // namespace

void add_job_actions(QMenu& menu, JobFiles& files, QWidget& window) {
    add(menu, QStringLiteral("newJob"), tr("&New job…"), QKeySequence::New, files,
        [&files, &window] { make_new_job(files, window); });
    add(menu, QStringLiteral("open"), tr("&Open…"), QKeySequence::Open, files, [&files] { files.ask_and_open(); });
    QMenu* recent = menu.addMenu(tr("Open &recent"));
    recent->setObjectName(QStringLiteral("openRecent"));
    recent->setFont(menu.font());
    QObject::connect(recent, &QMenu::aboutToShow, recent, [recent, &files] { list_recent(*recent, files); });
    add(menu, QStringLiteral("save"), tr("&Save"), QKeySequence::Save, files, [&files] { files.save(); });
    add(menu, QStringLiteral("saveAs"), tr("Save &as…"), QKeySequence::SaveAs, files, [&files] { files.save_as(); });
}

}  // namespace sillwright::app
