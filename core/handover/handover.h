#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "core/handover/contents.h"
#include "geometry/result.h"

namespace sillwright::core {

/// What a handover folder was filled with.
struct HandoverReport {
    std::filesystem::path folder;
    std::vector<std::filesystem::path> files;  ///< As written, relative to the folder, the manifest last.
    std::vector<std::string> notes;            ///< What its reader must be told; a warning about part size first.
};

/// Writes the handover folder of a job that was read from `job_file`, as it stood then; `extra` files (findings.json,
/// papers) go with it and into its manifest.
/// Errors: as read_file for the job file, handover_contents and write_folder; then all
///   is as it was.
geometry::Result<HandoverReport> write_handover(const Evaluation& evaluation, const BuckWork& work,
                                                const JobFileMark& checked, const std::filesystem::path& job_file,
                                                const std::filesystem::path& folder,
                                                const std::vector<HandoverFile>& extra = {});

}  // namespace sillwright::core
