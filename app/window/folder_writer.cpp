#include "app/window/folder_writer.h"

#include <QCoreApplication>
#include <cassert>
#include <utility>

#include "app/text_of.h"

namespace sillwright::app {

using geometry::Result;

namespace {

constexpr int k_look_again_ms = 10;

}  // namespace

FolderWriter::FolderWriter(CoreLink core, QObject* parent) : QObject(parent), core_{std::move(core)} {
    threads_.setMaxThreadCount(1);
}

FolderWriter::~FolderWriter() {
    stop_.request_stop();
    while (!threads_.waitForDone(k_look_again_ms)) {
        QCoreApplication::sendPostedEvents();  // A page that is being set waits for this thread.
    }
}

void FolderWriter::stop() {
    stop_.request_stop();
}

void FolderWriter::write(const std::filesystem::path& job_file, const std::filesystem::path& folder) {
    assert(!writing_);
    stop_ = {};
    writing_ = true;
    const auto notify = [this](const auto& call) { QMetaObject::invokeMethod(this, call, Qt::QueuedConnection); };
    const geometry::Watch watch{stop_.get_token(),
                                [this, notify](double part) { notify([this, part] { emit progressed(part); }); }};
    threads_.start([this, core = core_, watch, notify, job_file, folder] {
        const Result<HandedOver> made = [&]() -> Result<HandedOver> {
            const auto checked = core.check(job_file);
            if (!checked) {
                return checked.error();
            }
            if (watch.stop.stop_requested()) {
                return geometry::Error{geometry::ErrorCode::stopped, "Stopped: nothing was written."};
            }
            return core.hand_over(checked.value(), folder, watch);
        }();
        notify([this, made] {
            writing_ = false;
            if (made) {
                emit written(made.value());
            } else if (made.error().code == geometry::ErrorCode::stopped) {
                emit failed(tr("Stopped: nothing was written."));
            } else {
                emit failed(text_of(made.error().message));
            }
        });
    });
}

}  // namespace sillwright::app
