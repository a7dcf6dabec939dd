#include "app/desk/open_book.h"

#include <QElapsedTimer>
#include <algorithm>
#include <utility>

#include "app/desk/open_job.h"

namespace sillwright::app {

using core::survey::Results;

namespace {

/// A computation that takes less is made before the change is painted, so that the picture follows the key: with
/// painting it stays well below 50 ms.
constexpr double k_at_once_ms = 15.0;
/// Before the first was measured; a slow machine.
constexpr double k_usual_ms_per_reading = 0.05;
/// A shorter book says little of how long a reading takes.
constexpr std::size_t k_least_readings = 20;

double elapsed_ms(const QElapsedTimer& timer) {
    return 1e-6 * static_cast<double>(timer.nsecsElapsed());
}

}  // namespace

/// What results depend on.
struct OpenBook::Known {
    core::survey::Book book;
    std::vector<core::Door> doors;
    std::string other_hand;
    core::Side side = core::Side::right;
    core::BareUnit unit = core::BareUnit::mm;
    std::filesystem::path folder;

    friend bool operator==(const Known&, const Known&) = default;
};

OpenBook::OpenBook(OpenJob& open, QObject* parent)
    : QObject(parent),
      open_{open},
      results_{std::make_shared<const Results>()},
      ms_per_reading_{k_usual_ms_per_reading} {
    setObjectName(QStringLiteral("openBook"));
    threads_.setMaxThreadCount(1);
    connect(&open_, &OpenJob::job_changed, this, &OpenBook::follow);
    connect(&open_, &OpenJob::saved_changed, this, &OpenBook::follow);  // the folder may be another
    follow();
}

OpenBook::~OpenBook() {
    stop_.request_stop();
    threads_.waitForDone();
}

void OpenBook::follow() {
    const core::Job& job = open_.job();
    Known known{job.book, job.doors, job.other_hand, job.side, job.unit, open_.folder()};
    if (known_ && *known_ == known) {
        return;
    }
    known_ = std::make_unique<Known>(std::move(known));
    compute(ms_per_reading_ * static_cast<double>(job.book.readings.size()) <= k_at_once_ms);
}

void OpenBook::compute(bool at_once) {
    stop_.request_stop();
    stop_ = {};
    const std::uint64_t run = ++run_;
    current_ = false;
    const auto job = std::make_shared<const core::Job>(open_.job());
    const std::size_t readings = std::max(k_least_readings, job->book.readings.size());
    if (at_once) {
        QElapsedTimer timer;
        timer.start();
        results_ = std::make_shared<const Results>(core::survey::survey_results(*job, known_->folder, false));
        ms_per_reading_ = elapsed_ms(timer) / static_cast<double>(readings);
        current_ = true;
    }
    computing_ = true;
    emit changed();
    threads_.start([this, run, at_once, job, readings, folder = known_->folder, stop = stop_.get_token()] {
        const auto notify = [&](bool with_next) {
            if (stop.stop_requested()) {
                return;
            }
            QElapsedTimer timer;
            timer.start();
            const auto results = std::make_shared<const Results>(core::survey::survey_results(*job, folder, with_next));
            const double ms = elapsed_ms(timer);
            QMetaObject::invokeMethod(
                this,
                [this, run, results, with_next, ms, readings] {
                    if (run == run_ && !with_next) {
                        ms_per_reading_ = ms / static_cast<double>(readings);
                    }
                    take(run, results, with_next);
                },
                Qt::QueuedConnection);
        };
        if (!at_once) {
            notify(false);
        }
        notify(true);
    });
}

void OpenBook::take(std::uint64_t run, const std::shared_ptr<const Results>& results, bool last) {
    if (run != run_) {
        return;
    }
    results_ = results;
    current_ = true;
    computing_ = !last;
    emit changed();
}

}  // namespace sillwright::app
