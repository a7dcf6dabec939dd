#include "app/window/unsaved_work.h"

#include <algorithm>
#include <system_error>
#include <utility>

#include "app/desk/open_job.h"
#include "core/job_file.h"
#include "geometry/file_text.h"

namespace sillwright::app {

namespace fs = std::filesystem;

namespace unsaved_work {

namespace {

constexpr const char* k_ending = ".unsaved";
/// More leftovers of one job than anybody has put off deciding on.
constexpr int k_most_kept = 1000;

fs::path place_of(const fs::path& job_file, int number) {
    const std::string between = number == 1 ? "" : "." + std::to_string(number);
    return job_file.parent_path() / ("." + job_file.filename().string() + between + k_ending);
}

}  // namespace

fs::path lock_of(const fs::path& job_file) {
    return job_file.parent_path() / ("." + job_file.filename().string() + ".lock");
}

fs::path free_place_of(const fs::path& job_file) {
    int number = 1;
    std::error_code none;
    while (number < k_most_kept && fs::exists(fs::symlink_status(place_of(job_file, number), none))) {
        ++number;
    }
    return place_of(job_file, number);
}

std::vector<fs::path> kept_of(const fs::path& job_file) {
    std::vector<std::pair<fs::file_time_type, fs::path>> found;
    std::error_code none;
    const std::string start = "." + job_file.filename().string() + ".";
    for (fs::directory_iterator entry(job_file.parent_path(), none), end; !none && entry != end;
         entry.increment(none)) {
        const std::string name = entry->path().filename().string();
        const std::string ending = std::string(k_ending).substr(1);
        if (!name.starts_with(start) || !name.ends_with(ending)) {
            continue;
        }
        const std::string number = name.substr(start.size(), name.size() - start.size() - ending.size());
        const bool numbered =
            number.ends_with('.') && number.size() > 1 &&
            std::all_of(number.begin(), number.end() - 1, [](char c) { return c >= '0' && c <= '9'; });
        std::error_code unknown;
        if ((number.empty() || numbered) && entry->is_regular_file(unknown)) {
            found.emplace_back(fs::last_write_time(entry->path(), unknown), entry->path());
        }
    }
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a > b; });
    std::vector<fs::path> places;
    for (auto& [time, place] : found) {
        places.push_back(std::move(place));
    }
    return places;
}

}  // namespace unsaved_work

UnsavedWork::UnsavedWork(OpenJob& open, QObject* parent) : QObject(parent), open_{open} {
    threads_.setMaxThreadCount(1);  // so that the newest is written last
    for (QTimer* timer : {&after_last_, &after_first_}) {
        timer->setSingleShot(true);
        connect(timer, &QTimer::timeout, this, &UnsavedWork::write);
    }
    after_last_.setInterval(k_after_last_ms);
    after_first_.setInterval(k_after_first_ms);
    connect(&open_.history(), &QUndoStack::indexChanged, this, &UnsavedWork::change);
}

UnsavedWork::~UnsavedWork() {
    threads_.waitForDone();
}

void UnsavedWork::keep_at(std::optional<fs::path> place) {
    stop_waiting();
    place_ = std::move(place);
    told_ = false;
    if (place_ && open_.changed()) {
        change();
    }
}

void UnsavedWork::forget() {
    stop_waiting();
    if (place_) {
        std::error_code none;
        fs::remove(*place_, none);
    }
}

void UnsavedWork::write_now() {
    if (after_last_.isActive() || after_first_.isActive()) {
        write();
    }
    threads_.waitForDone();
}

void UnsavedWork::change() {
    if (!place_) {
        return;
    }
    if (!open_.changed()) {  // undone to what is saved
        forget();
        return;
    }
    job_ = std::make_shared<const core::Job>(open_.job());
    after_last_.start();
    if (!after_first_.isActive()) {
        after_first_.start();
    }
}

void UnsavedWork::write() {
    after_last_.stop();
    after_first_.stop();
    if (!place_ || !job_) {
        return;
    }
    threads_.start([this, job = job_, place = *place_] {
        const auto status = geometry::write_file(place, core::job_text(*job));
        QMetaObject::invokeMethod(
            this, [this, place, status] { take(place, status); }, Qt::QueuedConnection);
    });
}

void UnsavedWork::take(const fs::path& place, const geometry::Status& status) {
    if (place != place_) {
        return;
    }
    if (status) {
        told_ = false;
        emit written();
        return;
    }
    if (job_ && !after_first_.isActive()) {
        after_first_.start();  // there may be room by then
    }
    if (!std::exchange(told_, true)) {
        emit failed(tr("Unsaved changes cannot be kept for the case that the program ends: %1 You can go on working; "
                       "save the job to another place.")
                        .arg(QString::fromStdString(status.error().message)));
    }
}

void UnsavedWork::stop_waiting() {
    after_last_.stop();
    after_first_.stop();
    job_.reset();
    threads_.waitForDone();
}

}  // namespace sillwright::app
