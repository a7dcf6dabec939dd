#pragma once

#include <QObject>
#include <QThreadPool>
#include <QTimer>
#include <filesystem>
#include <memory>
#include <optional>
#include <vector>

#include "core/job.h"
#include "geometry/result.h"

namespace sillwright::app {

class OpenJob;

/// Where work that is not saved yet is kept, so that it outlives the program: in a file beside the job
/// (".Estate A.sillwright.unsaved"), never in the job file itself.
namespace unsaved_work {

/// Held while a window has the job open; tells whose process and machine that is.
std::filesystem::path lock_of(const std::filesystem::path& job_file);
/// The first name beside the job file at which nothing is kept yet.
std::filesystem::path free_place_of(const std::filesystem::path& job_file);
/// All that is kept of a job file, the newest first.
std::vector<std::filesystem::path> kept_of(const std::filesystem::path& job_file);

}  // namespace unsaved_work

/// Keeps the open job's unsaved changes on the disk: two seconds after the last change, and never
/// later than five seconds after the first. Writing runs in a thread of its own.
/// Without a place it does nothing.
class UnsavedWork : public QObject {
    Q_OBJECT

public:
    explicit UnsavedWork(OpenJob& open, QObject* parent = nullptr);
    ~UnsavedWork() override;

    /// Where to write from now on; none: nowhere. What stands at the place before stays there.
    void keep_at(std::optional<std::filesystem::path> place);
    [[nodiscard]] const std::optional<std::filesystem::path>& place() const { return place_; }
    /// Takes away what was written: the job is saved, or the changes are thrown away.
    void forget();
    /// Writes at once if there is something to write, and waits for it.
    void write_now();

    static constexpr int k_after_last_ms = 2000;
    /// So that the bytes are on the disk within five seconds.
    static constexpr int k_after_first_ms = 4000;

signals:
    void written();
    /// Could not be written: where, and why. Once, until it can be again.
    void failed(const QString& sentence);

private:
    void change();
    void write();
    void take(const std::filesystem::path& place, const geometry::Status& status);
    void stop_waiting();

    OpenJob& open_;
    std::optional<std::filesystem::path> place_;
    std::shared_ptr<const core::Job> job_;  ///< To be written: without what the hand drags now.
    QTimer after_last_, after_first_;
    QThreadPool threads_;
    bool told_ = false;
};

}  // namespace sillwright::app
