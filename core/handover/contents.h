#pragma once

#include <string>
#include <vector>

#include "geometry/result.h"

namespace sillwright::core {

struct BuckWork;
struct Evaluation;

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

/// The files of a job, but for the manifest: sheets for the router, the part and the buck as solids, sections, mounts,
/// findings, cautions and what to read first; `extra` files are listed with them.
///
/// What cannot be made for want of something measured is left out and named in the
///   notes and in what to read first. Without a buck's plan its ribs are outlines of the part's own size, with a
///   warning.
/// Errors: as the parts: kernel_failure for a solid, invalid_argument for a drawing or
///   for a path used twice.
geometry::Result<HandoverContents> handover_contents(const Evaluation& evaluation, const BuckWork& work,
                                                     const JobFileMark& job_file,
                                                     const std::vector<HandoverFile>& extra = {});

}  // namespace sillwright::core
