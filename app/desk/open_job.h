#pragma once

#include <Eigen/Core>
#include <QObject>
#include <QThreadPool>
#include <QUndoStack>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>

#include "core/drag.h"
#include "core/edit/edit.h"
#include "core/evaluate.h"
#include "core/hole_drag.h"
#include "core/job.h"
#include "geometry/result.h"

namespace sillwright::app {

/// The one job that the window has open: its value, its history, and what was computed of
/// it. Every change is one step of the history with a name in plain words; undoing
/// brings back the very value that was there, bit for bit.
///
/// Computing runs in a thread of its own, findings first and their mends behind; until it is done, `results` are those
/// of an earlier value of the job and `current` is false: whoever shows them says so.
class OpenJob : public QObject {
    Q_OBJECT

public:
    explicit OpenJob(QObject* parent = nullptr);
    ~OpenJob() override;

    /// Another job takes the place of this one; the history is empty then. `file` is empty for a job that
    /// was never saved. `results`, if not null, are those of this very job.
    void open(core::Job job, std::filesystem::path file, std::shared_ptr<const core::Evaluation> results = nullptr);

    /// The job as it is now, a change under the hand included.
    [[nodiscard]] const core::Job& job() const;
    [[nodiscard]] const std::filesystem::path& file() const { return file_; }
    /// Where its meshes lie; the working folder for a job that was never saved.
    [[nodiscard]] std::filesystem::path folder() const;
    /// Whether it is other than what was saved last.
    [[nodiscard]] bool changed() const { return !history_.isClean(); }
    /// `file` holds the job now.
    void saved_as(const std::filesystem::path& file);
    [[nodiscard]] QUndoStack& history() { return history_; }

    /// The latest results; null before the first. While dragging they follow the hand, and are
    /// to be used at once: the next move changes them in place.
    [[nodiscard]] std::shared_ptr<const core::Evaluation> results() const;
    /// Whether the results are those of the job as it is now.
    [[nodiscard]] bool current() const;
    [[nodiscard]] bool computing() const { return computing_; }
    /// Why the job as it is now has no results, in a sentence; empty if it has or will have.
    [[nodiscard]] const QString& failure() const { return failure_; }
    /// While dragging: what the coarser mesh takes off every bound.
    [[nodiscard]] std::optional<geometry::Length> drag_deviation() const;

    /// Makes an edit one step of the history; an edit that failed is refused in words.
    /// Returns whether it was made.
    bool apply(const geometry::Result<core::Edit>& edit);

    /// Dragging a node: `begin_drag`, any number of `drag_to`, and `drop` makes one step of the history of
    /// it; `put_back` makes none. Nodes of the skirt have results that follow the hand; those of
    /// other bodies are computed after the drop.
    bool begin_drag(const std::string& node_id);
    void drag_to(const Eigen::Vector2d& p_mm);
    /// The same of the part's hole for a mount, moved along the flange by its shift; ends in drop or put_back too.
    bool begin_hole_drag(const std::string& mount);
    void drag_hole_to(geometry::Length shift);
    void drop();
    void put_back();
    [[nodiscard]] bool dragging() const { return dragging_; }

    /// Stops the computation that runs; the results stay stale until the next change or `compute`.
    void stop_computing();
    void compute();

signals:
    /// Another job was opened.
    void opened();
    /// The job's value is another: after an edit, an undo, a move of the drag.
    void job_changed();
    /// results(), current() or failure() are others.
    void results_changed();
    /// Part done of the computation that runs, 0 to 1.
    void progressed(double part);
    /// An edit could not be made, or a drag not followed: why, and what would be right.
    void refused(const QString& sentence);
    /// The file or whether it is saved has changed.
    void saved_changed();

private:
    class Step;
    void take(std::shared_ptr<const core::Job> job);
    void take_results(std::uint64_t run, const geometry::Result<std::shared_ptr<const core::Evaluation>>& results);
    void end_drag();
    /// Results that follow the hand; null while none do.
    [[nodiscard]] std::shared_ptr<const core::Evaluation> under_hand() const;

    std::shared_ptr<const core::Job> job_;
    std::filesystem::path file_;
    QUndoStack history_;

    std::shared_ptr<const core::Evaluation> full_;     ///< The last that was computed at full tolerance.
    std::shared_ptr<const core::Evaluation> results_;  ///< That, or those of a drag.
    std::shared_ptr<const core::Job> results_of_;      ///< The value that the results belong to.
    std::optional<geometry::Length> deviation_;        ///< Of results of a drag.
    QString failure_;

    QThreadPool threads_;  ///< One at a time: the one before stops soon.
    std::stop_source stop_;
    std::uint64_t run_ = 0;  ///< Number of the computation whose results are waited for.
    bool computing_ = false;

    bool dragging_ = false;
    std::string dragged_;
    std::shared_ptr<core::Drag> drag_;  ///< For nodes of the skirt.
    std::shared_ptr<core::HoleDrag> hole_drag_;
    std::shared_ptr<core::Drag> last_drag_;   ///< Of results that are a drag's, after it was let go,
    std::string let_go_;                      ///< and its node.
    std::optional<core::Job> dragged_job_;    ///< The job as the hand has it now.
    std::optional<core::Edit> dragged_edit_;  ///< What letting go would make; none before the first move.
};

}  // namespace sillwright::app
