#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "core/survey/results.h"
#include "geometry/result.h"

namespace sillwright::app {

/// A job whose measuring book was adjusted; nothing else of it is computed.
struct SurveyedJob {
    core::Job job;
    std::filesystem::path file;
    core::survey::Results results;
    std::vector<core::Finding> findings;  ///< Of the book alone, worst first.
};

/// Errors: as core::read_job.
geometry::Result<SurveyedJob> survey_job(const std::filesystem::path& file);
SurveyedJob surveyed(core::Job job, const std::filesystem::path& file);

}  // namespace sillwright::app
