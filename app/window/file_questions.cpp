#include "app/window/file_questions.h"

#include <QCoreApplication>
#include <QFile>
#include <QFileDialog>
#include <QMessageBox>
#include <QPushButton>

#include "app/looks.h"

namespace sillwright::app {

namespace {

QString tr(const char* text) {
    return QCoreApplication::translate("FileDialogs", text);
}

/// A question with buttons of our own words, in the window's own sizes.
class Question : public QMessageBox {
public:
    Question(QWidget* window, const QString& name, const QString& sentence, const QString& more = {})
        : QMessageBox(QMessageBox::NoIcon, QStringLiteral("Sillwright"), sentence, QMessageBox::NoButton, window) {
        setObjectName(name);
        setTextFormat(Qt::PlainText);  // names of jobs and files are nobody's markup
        setInformativeText(more);
        setFont(looks::font(looks::k_text));
    }

    QPushButton* button(const QString& text, const QString& name, ButtonRole role) {
        QPushButton* made = addButton(text, role);
        made->setObjectName(name);
        made->setAccessibleName(text);
        made->setMinimumHeight(looks::k_target);
        return made;
    }

    QAbstractButton* answer() {
        exec();
        return clickedButton();
    }
};

QString jobs_filter() {
    return tr("Jobs (*.sillwright);;All files (*)");
}

std::optional<std::filesystem::path> path_of(const QString& name) {
    return name.isEmpty() ? std::nullopt : std::optional<std::filesystem::path>(QFile::encodeName(name).toStdString());
}

}  // namespace

FileQuestions::Leaving FileDialogs::leave(const QString& job) {
    Question question(window_, QStringLiteral("unsavedChanges"), tr("%1 has changes that are not saved.").arg(job));
    const auto* save = question.button(tr("Save"), QStringLiteral("saveJob"), QMessageBox::AcceptRole);
    const auto* away =
        question.button(tr("Throw the changes away"), QStringLiteral("throwAway"), QMessageBox::DestructiveRole);
    auto* stay = question.button(tr("Stay here"), QStringLiteral("stay"), QMessageBox::RejectRole);
    question.setEscapeButton(stay);
    const auto* answer = question.answer();
    return answer == save ? Leaving::save : answer == away ? Leaving::throw_away : Leaving::stay;
}

std::optional<std::filesystem::path> FileDialogs::job_to_open(const std::filesystem::path& folder) {
    return path_of(
        QFileDialog::getOpenFileName(window_, tr("Open a job"), QFile::decodeName(folder.c_str()), jobs_filter()));
}

std::optional<std::filesystem::path> FileDialogs::name_for(const std::filesystem::path& suggestion) {
    // Whether a file may be replaced is asked by us, once the ending is there.
    return path_of(QFileDialog::getSaveFileName(window_, tr("Save the job as"), QFile::decodeName(suggestion.c_str()),
                                                jobs_filter(), nullptr, QFileDialog::DontConfirmOverwrite));
}

bool FileDialogs::go_on(const QString& sentence, const QString& act) {
    Question question(window_, QStringLiteral("goOn"), sentence);
    const auto* yes = question.button(act, QStringLiteral("yes"), QMessageBox::AcceptRole);
    auto* no = question.button(tr("No, leave it"), QStringLiteral("no"), QMessageBox::RejectRole);
    question.setDefaultButton(no);
    question.setEscapeButton(no);
    return question.answer() == yes;
}

FileQuestions::Kept FileDialogs::kept(const QString& sentence, bool saved_job) {
    Question question(window_, QStringLiteral("keptWork"), sentence,
                      saved_job ? tr("Taking them changes no file: the saved job stays as it is until you save, and "
                                     "undo goes back to it. Keeping the saved job deletes the unsaved changes.")
                                : tr("It was never saved under a name. Throwing it away deletes it."));
    const auto* take = question.button(saved_job ? tr("Take the unsaved changes") : tr("Take the unsaved job"),
                                       QStringLiteral("takeKept"), QMessageBox::AcceptRole);
    const auto* keep = question.button(saved_job ? tr("Keep the saved job") : tr("Throw it away"),
                                       QStringLiteral("keepSaved"), QMessageBox::DestructiveRole);
    auto* later = question.button(tr("Decide later"), QStringLiteral("later"), QMessageBox::RejectRole);
    question.setEscapeButton(later);
    const auto* answer = question.answer();
    return answer == take ? Kept::take : answer == keep ? Kept::keep_saved : Kept::later;
}

void FileDialogs::say(const QString& sentence) {
    Question question(window_, QStringLiteral("said"), sentence);
    question.button(tr("Go on"), QStringLiteral("yes"), QMessageBox::AcceptRole);
    question.answer();
}

}  // namespace sillwright::app
