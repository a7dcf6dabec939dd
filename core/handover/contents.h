#pragma once

#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/result.h"

namespace sillwright::core {

/// A file as its bytes, with its path in the folder ("buck/station_3.dxf").
struct HandoverFile {
    std::string path;
    std::string bytes;
};

/// All that leaves the program for one job, before anything is written.
struct HandoverContents {
    std::vector<HandoverFile> files;
    std::vector<std::string> notes;  ///< What its reader must be told, a sentence or more each.
};

/// The job file that the contents belong to.
struct JobFileMark {
    std::string name;    ///< Without its folder.
    std::string sha256;  ///< In hex.
};

/// The files of a job, but for the manifest: buck sheets, part, mounts, findings,
/// cautions and what to read first; `extra` files are listed with them.
///
/// What cannot be made for want of something measured is left out and named in the
///   notes and in what to read first.
/// Errors: as the parts: kernel_failure for a solid, invalid_argument for a drawing or
///   for a path used twice.
geometry::Result<HandoverContents> handover_contents(const Job& job, const CarModel& car,
                                                     const std::vector<Finding>& findings, const JobFileMark& job_file,
                                                     const std::vector<HandoverFile>& extra = {});

}  // namespace sillwright::core
