#pragma once

#include <functional>
#include <string>

#include "core/job.h"
#include "geometry/result.h"

namespace sillwright::core {

/// A job after one change, and the change in plain words for the history:
/// "move shelf edge at station 4", "place mount H9".
struct Edit {
    Job job;
    std::string words;
};

/// The job after a change that may be kept: one that can be saved and read again.
/// Errors: invalid_argument, the first fault of the job (job_check.h) in words that name
///   what is wrong and what would be right; the job is as it was.
geometry::Result<Edit> checked_edit(Job job, std::string words);

}  // namespace sillwright::core
