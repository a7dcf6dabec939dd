#include "core/handover/handover.h"

#include <utility>

#include "core/handover/folder.h"
#include "core/handover/manifest.h"
#include "core/job_file/bounds.h"
#include "geometry/file_text.h"
#include "geometry/sha256.h"

namespace sillwright::core {

geometry::Result<HandoverReport> write_handover(const Evaluation& evaluation, const BuckWork& work,
                                                const JobFileMark& checked, const std::filesystem::path& job_file,
                                                const std::filesystem::path& folder,
                                                const std::vector<HandoverFile>& extra) {
    const auto text = geometry::read_file(job_file, job_file::k_most_bytes);
    if (!text) {
        return text.error();
    }
    auto made = handover_contents(evaluation, work, checked, extra);
    if (!made) {
        return made.error();
    }
    HandoverContents contents = std::move(made).value();
    const auto written = write_folder(contents.files, folder);
    if (!written) {
        return written.error();
    }
    HandoverReport report{folder, {}, std::move(contents.notes)};
    for (const HandoverFile& file : contents.files) {
        report.files.emplace_back(file.path);
    }
    report.files.emplace_back(k_manifest_name);
    if (geometry::sha256(text.value()) != checked.sha256) {
        report.notes.push_back("The job file has changed since it was checked: check it and hand it over again.");
    }
    report.notes.insert(report.notes.end(), written.value().begin(), written.value().end());
    return report;
}

}  // namespace sillwright::core
