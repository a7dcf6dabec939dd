#pragma once

#include <QLockFile>
#include <QObject>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "app/window/recent_jobs.h"
#include "app/window/unsaved_work.h"
#include "core/job.h"

class QWidget;

namespace sillwright::app {

class FileQuestions;
class OpenJob;

/// Where the program keeps its own things.
struct OwnPlaces {
    QString settings_file;          ///< Empty: the usual one.
    std::filesystem::path unsaved;  ///< Folder for jobs that have no name yet.

    static OwnPlaces usual();
};

/// The files of the open job: new, open, save, and nothing of a person's lost by it. A file is never
/// overwritten unasked, unsaved changes are asked for before the job is left, and kept on the disk
/// for the case that the program ends (unsaved_work.h).
class JobFiles : public QObject {
    Q_OBJECT

public:
    JobFiles(OpenJob& open, FileQuestions& questions, OwnPlaces places, QObject* parent = nullptr);
    ~JobFiles() override;

    /// Unsaved changes are asked for; true if the job may be left for another. Nothing is done to it yet.
    bool leave();
    /// Shows a job that has no file; `changed`: one that would be a loss. Call leave() before.
    void show_without_file(core::Job job, bool changed);
    /// Opens a job file in place of the open job. False if it could not be, which was said, or was not wanted.
    bool open(const std::filesystem::path& file);
    bool ask_and_open();
    bool save();
    bool save_as();
    /// Where the program ended without saving a job that has no file, offers it; true if one was taken.
    bool offer_unnamed();
    /// Asks for unsaved changes; true if the window may close. What was kept for a crash is gone then.
    bool close();

    /// "Estate A · skirt, revision C · changed"
    [[nodiscard]] QString title() const;
    /// Keeps a window's title and its mark of change up to date.
    void show_title_on(QWidget* window);
    [[nodiscard]] RecentJobs& recent() { return recent_; }
    [[nodiscard]] UnsavedWork& unsaved() { return unsaved_; }

    static constexpr const char* k_ending = ".sillwright";

signals:
    void title_changed();
    /// Something of which work goes on: to be shown, not asked.
    void warned(const QString& sentence);

private:
    enum class Hold { held, not_here, elsewhere };
    struct Lock {
        Hold hold = Hold::not_here;
        std::unique_ptr<QLockFile> file;
        QString owner;  ///< If it is elsewhere: who has it.
    };
    static Lock lock(const std::filesystem::path& job_file);

    [[nodiscard]] QString job_name() const;
    void let_go();
    bool take(const std::filesystem::path& file);
    /// Offers what was kept of a job that is open now; the place to keep its changes at from now on.
    std::filesystem::path offer_kept(const std::filesystem::path& job_file);
    bool save_to(const std::filesystem::path& file);
    bool save_elsewhere(const std::filesystem::path& file);
    [[nodiscard]] bool write(const std::filesystem::path& file);

    OpenJob& open_;
    FileQuestions& questions_;
    OwnPlaces places_;
    RecentJobs recent_;
    UnsavedWork unsaved_;
    std::unique_ptr<QLockFile> lock_;
    std::string on_disk_;  ///< SHA-256 of the file as it was read or written last.
};

}  // namespace sillwright::app
