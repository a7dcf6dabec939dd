#include "app/desk/open_buck.h"

#include <utility>

#include "app/desk/open_job.h"
#include "app/text_of.h"
#include "core/evaluate.h"

namespace sillwright::app {

using geometry::Result;

OpenBuck::OpenBuck(OpenJob& open, QObject* parent, Make make) : QObject(parent), open_{open}, make_{std::move(make)} {
    threads_.setMaxThreadCount(1);
    connect(&open_, &OpenJob::opened, this, [this] {
        drop();
        follow();
    });
    connect(&open_, &OpenJob::results_changed, this, &OpenBuck::follow);
}

OpenBuck::~OpenBuck() {
    stop_.request_stop();
    threads_.waitForDone();
}

void OpenBuck::want(bool wanted) {
    wanted_ = wanted;
    follow();
}

/// A job that is another has another buck, until its results say that it has not.
void OpenBuck::follow() {
    const auto results = open_.results();
    if (open_.dragging() || !results || !open_.current()) {
        if (key_ && (!results || results->job.buck != open_.job().buck)) {
            drop();
        }
        return;
    }
    const Key now{results->buck, results->job.buck, results->job.forming.router.bits};
    if (key_ && !(*key_ == now)) {
        drop();
    }
    if (wanted_ && !key_) {
        key_ = now;
        begin();
    }
}

void OpenBuck::drop() {
    stop_.request_stop();
    ++run_;
    const bool was_there = work_ || computing_ || stopped_ || !failure_.isEmpty();
    work_.reset();
    key_.reset();
    failure_.clear();
    computing_ = stopped_ = false;
    if (was_there) {
        emit changed();
    }
}

void OpenBuck::stop() {
    if (!computing_) {
        return;
    }
    stop_.request_stop();
    ++run_;
    computing_ = false;
    stopped_ = true;
    emit changed();
}

void OpenBuck::go_on() {
    if (!computing_) {
        key_.reset();
        follow();
    }
}

void OpenBuck::begin() {
    stop_.request_stop();
    stop_ = {};
    const std::uint64_t run = ++run_;
    computing_ = true;
    stopped_ = false;
    failure_.clear();
    const auto notify = [this](const auto& call) { QMetaObject::invokeMethod(this, call, Qt::QueuedConnection); };
    const geometry::Watch watch{stop_.get_token(), [this, run, notify](double part) {
                                    notify([this, run, part] {
                                        if (run == run_) {
                                            emit progressed(part);
                                        }
                                    });
                                }};
    threads_.start([this, run, notify, watch, evaluation = open_.results(), make = make_] {
        if (watch.stop.stop_requested()) {
            return;
        }
        const auto made = make(*evaluation, watch, [this, run, notify](SharedWork better) {
            notify([this, run, better = std::move(better)] { take(run, better, false); });
        });
        notify([this, run, made] { take(run, made, true); });
    });
    emit progressed(0.0);
    emit changed();
}

void OpenBuck::take(std::uint64_t run, const Result<SharedWork>& work, bool last) {
    if (run != run_) {
        return;
    }
    computing_ = !last;
    if (work) {
        work_ = work.value();
    } else {
        failure_ = text_of(work.error().message);
    }
    emit changed();
}

}  // namespace sillwright::app
