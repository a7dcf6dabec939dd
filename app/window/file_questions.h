#pragma once

#include <QString>
#include <filesystem>
#include <optional>

class QWidget;

namespace sillwright::app {

/// What is asked of a person where files are concerned. The window asks by dialogs; a test answers by itself.
class FileQuestions {
public:
    enum class Leaving { save, throw_away, stay };
    enum class Kept { take, keep_saved, later };

    FileQuestions() = default;
    FileQuestions(const FileQuestions&) = delete;
    FileQuestions& operator=(const FileQuestions&) = delete;
    virtual ~FileQuestions() = default;

    /// `job` has unsaved changes and another is to be opened, or the window closed.
    virtual Leaving leave(const QString& job) = 0;
    virtual std::optional<std::filesystem::path> job_to_open(const std::filesystem::path& folder) = 0;
    virtual std::optional<std::filesystem::path> name_for(const std::filesystem::path& suggestion) = 0;
    /// A yes or no on something that would otherwise not be done: `act` names what a yes does.
    virtual bool go_on(const QString& sentence, const QString& act) = 0;
    /// Changes that were never saved were found. Without a saved job they can be taken or thrown away.
    virtual Kept kept(const QString& sentence, bool saved_job) = 0;
    virtual void say(const QString& sentence) = 0;
};

/// Asks by dialogs over a window. Their object names: unsavedChanges (buttons saveJob, throwAway, stay),
/// goOn (yes, no), keptWork (takeKept, keepSaved, later), said.
class FileDialogs : public FileQuestions {
public:
    explicit FileDialogs(QWidget* window) : window_{window} {}

    Leaving leave(const QString& job) override;
    std::optional<std::filesystem::path> job_to_open(const std::filesystem::path& folder) override;
    std::optional<std::filesystem::path> name_for(const std::filesystem::path& suggestion) override;
    bool go_on(const QString& sentence, const QString& act) override;
    Kept kept(const QString& sentence, bool saved_job) override;
    void say(const QString& sentence) override;

private:
    QWidget* window_;
};

}  // namespace sillwright::app
