#include "app/desk/open_book.h"

#include <QElapsedTimer>
#include <utility>

#include "app/desk/open_job.h"

namespace sillwright::app {

using core::survey::Results;

namespace {

/// A computation that takes less is made before the change is painted, so that the picture follows the key: with
/// painting it stays well below 50 ms.
constexpr double k_at_once_ms = 15.0;

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
    : QObject(parent), open_{open}, results_{std::make_shared<const Results>()}, took_ms_{0.0} {
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
    compute(took_ms_ <= k_at_once_ms);
}

void OpenBook::compute(bool at_once) {
    stop_.request_stop();
    stop_ = {};
    const std::uint64_t run = ++run_;
    current_ = false;
    const auto job = std::make_shared<const core::Job>(open_.job());
    if (at_once) {
        QElapsedTimer timer;
        timer.start();
        results_ = std::make_shared<const Results>(core::survey::survey_results(*job, known_->folder, false));
        took_ms_ = elapsed_ms(timer);
        current_ = true;
    }
    computing_ = true;
    emit changed();
    threads_.start([this, run, at_once, job, folder = known_->folder, stop = stop_.get_token()] {
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
                [this, run, results, with_next, ms] {
                    if (run == run_ && !with_next) {
                        took_ms_ = ms;
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
