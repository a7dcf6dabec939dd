#include "app/surveyed_job.h"

#include <utility>

#include "core/finding_words.h"
#include "core/job_file.h"
#include "core/survey/survey_findings.h"

namespace sillwright::app {

geometry::Result<SurveyedJob> survey_job(const std::filesystem::path& file) {
    auto job = core::read_job(file);
    if (!job) {
        return job.error();
    }
    return surveyed(std::move(job).value(), file);
}

SurveyedJob surveyed(core::Job job, const std::filesystem::path& file) {
    SurveyedJob surveyed;
    surveyed.results = core::survey::survey_results(job, file.parent_path());
    surveyed.findings = core::worst_first(core::survey_findings(job, surveyed.results));
    surveyed.job = std::move(job);
    surveyed.file = file;
    return surveyed;
}

}  // namespace sillwright::app
