#include "app/desk/open_job.h"

#include <algorithm>
#include <system_error>
#include <utility>

#include "core/edit/mount_edit.h"
#include "core/edit/node_edit.h"

namespace sillwright::app {

using core::Evaluation;
using core::Job;
using geometry::ErrorCode;
using geometry::Result;

/// A change as two values: the job before it, and the job after.
class OpenJob::Step : public QUndoCommand {
public:
    Step(OpenJob& open, std::shared_ptr<const Job> after, const QString& words)
        : QUndoCommand(words), open_{open}, before_{open.job_}, after_{std::move(after)} {}
    void undo() override { open_.take(before_); }
    void redo() override { open_.take(after_); }

private:
    OpenJob& open_;
    std::shared_ptr<const Job> before_, after_;
};

OpenJob::OpenJob(QObject* parent) : QObject(parent), job_{std::make_shared<const Job>()}, history_{this} {
    threads_.setMaxThreadCount(1);
    connect(&history_, &QUndoStack::cleanChanged, this, &OpenJob::saved_changed);
}

OpenJob::~OpenJob() {
    stop_.request_stop();
    threads_.waitForDone();
    history_.disconnect(this);
}

void OpenJob::open(Job job, std::filesystem::path file, std::shared_ptr<const Evaluation> results) {
    stop_computing();
    end_drag();
    job_ = std::make_shared<const Job>(std::move(job));
    file_ = std::move(file);
    full_ = results_ = std::move(results);
    results_of_ = results_ ? job_ : nullptr;
    deviation_.reset();
    failure_.clear();
    history_.clear();
    emit opened();
    emit saved_changed();
    emit job_changed();
    emit results_changed();
    if (!results_) {
        compute();
    }
}

const Job& OpenJob::job() const {
    const auto follows = under_hand();
    return follows ? follows->job : dragged_job_ ? *dragged_job_ : *job_;
}

std::shared_ptr<const Evaluation> OpenJob::under_hand() const {
    if (hole_drag_) {
        return {hole_drag_, &hole_drag_->evaluation()};
    }
    return drag_ ? std::shared_ptr<const Evaluation>(drag_, &drag_->evaluation()) : nullptr;
}

std::filesystem::path OpenJob::folder() const {
    std::error_code none;
    return file_.empty() ? std::filesystem::current_path(none) : file_.parent_path();
}

void OpenJob::saved_as(const std::filesystem::path& file) {
    file_ = file;
    history_.setClean();
    emit saved_changed();
}

std::shared_ptr<const Evaluation> OpenJob::results() const {
    const auto follows = under_hand();
    return follows ? follows : results_;
}

bool OpenJob::current() const {
    return under_hand() != nullptr || (!dragged_job_ && results_ && results_of_ == job_);
}

std::optional<geometry::Length> OpenJob::drag_deviation() const {
    return drag_ ? std::optional(drag_->deviation()) : deviation_;
}

bool OpenJob::apply(const Result<core::Edit>& edit) {
    if (!edit) {
        emit refused(QString::fromStdString(edit.error().message));
        return false;
    }
    if (edit.value().job == *job_) {
        return true;  // nothing to undo
    }
    history_.push(
        new Step(*this, std::make_shared<const Job>(edit.value().job), QString::fromStdString(edit.value().words)));
    return true;
}

bool OpenJob::begin_drag(const std::string& node_id) {
    end_drag();
    const auto place = core::find_node(*job_, node_id);
    if (!place) {
        return false;
    }
    dragging_ = true;
    dragged_ = node_id;
    const bool checked = results_of_ == job_ && !job_->forming.sculpted.replaces;  // else the prototype is
    if (place->drawn.kind == core::DrawnId::Kind::piece && checked) {
        stop_computing();
        if (results_ != full_ && node_id == let_go_) {
            drag_ = last_drag_;  // taken up again before the full tolerance was there
        } else if (full_ && results_ == full_) {
            auto drag = core::Drag::begin(full_, node_id);
            if (drag) {
                drag_ = std::make_shared<core::Drag>(std::move(drag).value());
            }
        }
    }
    return true;
}

void OpenJob::drag_to(const Eigen::Vector2d& p_mm) {
    if (!dragging_) {
        return;
    }
    auto edit = core::move_node(*job_, dragged_, p_mm);
    if (!edit) {
        emit refused(QString::fromStdString(edit.error().message));
        return;
    }
    if (drag_) {
        if (const auto moved = drag_->to(p_mm); !moved) {
            emit refused(QString::fromStdString(moved.error().message));
            return;
        }
    } else {
        dragged_job_ = edit.value().job;
    }
    dragged_edit_ = std::move(edit).value();
    emit job_changed();
    emit results_changed();
}

bool OpenJob::begin_hole_drag(const std::string& mount) {
    end_drag();
    const auto& mounts = job_->mounts;
    if (std::none_of(mounts.begin(), mounts.end(), [&](const auto& one) { return one.name == mount; })) {
        return false;
    }
    dragging_ = true;
    dragged_ = mount;
    if (full_ && results_ == full_ && results_of_ == job_) {
        stop_computing();
        auto drag = core::HoleDrag::begin(full_, mount);
        if (drag) {
            hole_drag_ = std::make_shared<core::HoleDrag>(std::move(drag).value());
        }
    }
    return true;
}

void OpenJob::drag_hole_to(geometry::Length shift) {
    if (!dragging_) {
        return;
    }
    auto edit = core::shift_part_hole(*job_, dragged_, shift);
    if (!edit) {
        emit refused(QString::fromStdString(edit.error().message));
        return;
    }
    if (hole_drag_) {
        hole_drag_->to(shift);
    } else {
        dragged_job_ = edit.value().job;
    }
    dragged_edit_ = std::move(edit).value();
    emit job_changed();
    emit results_changed();
}

void OpenJob::drop() {
    if (!dragging_) {
        return;
    }
    const std::optional<core::Edit> edit = std::exchange(dragged_edit_, std::nullopt);
    const std::shared_ptr<core::Drag> drag = drag_;
    const std::shared_ptr<const Evaluation> followed = under_hand();
    const std::string node_id = dragged_;
    end_drag();
    if (!edit || edit->job == *job_) {
        emit job_changed();
        emit results_changed();
        return;
    }
    auto after = std::make_shared<const Job>(edit->job);
    if (followed) {
        // What followed the hand is shown until all is computed.
        results_ = followed;
        results_of_ = after;
    }
    if (drag) {
        deviation_ = drag->deviation();
        last_drag_ = drag;
        let_go_ = node_id;
    }
    history_.push(new Step(*this, std::move(after), QString::fromStdString(edit->words)));
}

void OpenJob::put_back() {
    if (dragging_) {
        end_drag();
        emit job_changed();
        emit results_changed();
    }
}

void OpenJob::end_drag() {
    dragging_ = false;
    dragged_.clear();
    drag_.reset();
    hole_drag_.reset();
    dragged_job_.reset();
    dragged_edit_.reset();
}

void OpenJob::take(std::shared_ptr<const Job> job) {
    end_drag();
    job_ = std::move(job);
    if (results_of_ != job_) {
        results_ = full_;  // of an earlier value, and said to be
        deviation_.reset();
        if (results_ && results_->job == *job_) {
            results_of_ = job_;
        }
    }
    failure_.clear();
    emit job_changed();
    emit results_changed();
    compute();
}

void OpenJob::stop_computing() {
    stop_.request_stop();
    ++run_;
    if (std::exchange(computing_, false)) {
        emit results_changed();
    }
}

void OpenJob::compute() {
    stop_.request_stop();
    const std::uint64_t run = ++run_;
    const bool known = full_ && results_ == full_ && results_of_ == job_;
    if (known && full_->unmended.empty()) {
        computing_ = false;
        return;  // an undo came back to what is known
    }
    stop_ = {};
    computing_ = true;
    emit progressed(0.0);
    const auto notify = [this](const auto& call) { QMetaObject::invokeMethod(this, call, Qt::QueuedConnection); };
    const geometry::Watch watch{stop_.get_token(), [this, run, notify](double part) {
                                    notify([this, run, part] {
                                        if (run == run_) {
                                            emit progressed(part);
                                        }
                                    });
                                }};
    threads_.start([this, run, known, notify, watch, job = job_, previous = full_, folder = folder()] {
        using Results = Result<std::shared_ptr<const Evaluation>>;
        if (watch.stop.stop_requested()) {
            return;
        }
        const Results found = known      ? Results(previous)
                              : previous ? core::update(*job, *previous, folder, watch, core::Mends::leave)
                                         : core::evaluate(*job, folder, watch, core::Mends::leave);
        notify([this, run, found] { take_results(run, found); });
        if (found && !found.value()->unmended.empty()) {
            const Results mended = core::with_mends(found.value(), watch);
            notify([this, run, mended] { take_results(run, mended); });
        }
    });
}

void OpenJob::take_results(std::uint64_t run, const Result<std::shared_ptr<const Evaluation>>& results) {
    if (run != run_ || under_hand()) {
        return;
    }
    computing_ = results && !results.value()->unmended.empty();  // mends are still looked for
    if (results) {
        last_drag_.reset();
        full_ = results_ = results.value();
        results_of_ = job_;
        deviation_.reset();
        failure_.clear();
    } else if (results.error().code != ErrorCode::stopped) {
        failure_ = QString::fromStdString(results.error().message);
    }
    emit results_changed();
}

}  // namespace sillwright::app
