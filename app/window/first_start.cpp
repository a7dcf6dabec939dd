#include "app/window/first_start.h"

#include <QCoreApplication>
#include <QFile>
#include <system_error>
#include <utility>

#include "app/window/job_files.h"
#include "core/job_file.h"

namespace sillwright::app::first_start {

namespace fs = std::filesystem;

std::vector<fs::path> sample_folders() {
    const fs::path program = QFile::encodeName(QCoreApplication::applicationDirPath()).toStdString();
    return {program / ".." / "share" / "sillwright" / "samples", fs::path(SILLWRIGHT_SAMPLES)};
}

geometry::Result<core::Job> sample(const std::vector<fs::path>& folders) {
    std::string looked;
    for (const fs::path& folder : folders) {
        std::error_code none;
        if (fs::is_regular_file(folder / k_sample, none)) {
            return core::read_job(folder / k_sample);
        }
        looked += (looked.empty() ? "" : " and ") + folder.lexically_normal().string();
    }
    return geometry::Error{geometry::ErrorCode::unreadable_file,
                           "The sample job " + std::string(k_sample) + " is missing; it was looked for in " + looked +
                               ". Install the program again, or open a job of your own."};
}

geometry::Status begin(JobFiles& files, const std::vector<fs::path>& folders) {
    if (files.offer_unnamed()) {
        return std::monostate{};
    }
    const auto recent = files.recent().list();
    if (!recent.empty() && recent.front().there && files.open(recent.front().file)) {
        return std::monostate{};
    }
    auto job = sample(folders);
    if (!job) {
        return job.error();
    }
    files.show_without_file(std::move(job).value(), false);
    return std::monostate{};
}

}  // namespace sillwright::app::first_start
