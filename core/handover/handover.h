#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/handover/contents.h"
#include "core/job.h"
#include "geometry/result.h"

namespace sillwright::core {

/// What a handover folder was filled with.
struct HandoverReport {
    std::filesystem::path folder;
    std::vector<std::filesystem::path> files;  ///< As written, relative to the folder, the manifest last.
    std::vector<std::string> notes;            ///< What its reader must be told; the warning about part size first.
};

/// Writes the handover folder of a job that was read from `job_file`; `extra` files
/// (findings.json) go with it and into its manifest.
/// Errors: as read_file for the job file, handover_contents and write_folder; then all
///   is as it was.
geometry::Result<HandoverReport> write_handover(const Job& job, const CarModel& car,
                                                const std::vector<Finding>& findings,
                                                const std::filesystem::path& job_file,
                                                const std::filesystem::path& folder,
                                                const std::vector<HandoverFile>& extra = {});

}  // namespace sillwright::core
