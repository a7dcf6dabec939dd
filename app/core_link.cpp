#include "app/core_link.h"

#include <memory>
#include <utility>

#include "app/checksum.h"
#include "app/link/clearance_curves.h"
#include "app/link/door_limits_of_job.h"
#include "app/link/section_of_job.h"
#include "app/link/solids_of_job.h"
#include "app/terminal/findings_json.h"
#include "core/evaluate.h"
#include "core/handover/handover.h"
#include "core/job_file.h"

namespace sillwright::app {

using geometry::Result;

namespace {

Result<CheckedJob> check(const std::filesystem::path& file) {
    auto sha256 = sha256_of(file);
    if (!sha256) {
        return sha256.error();
    }
    const auto job = core::read_job(file);
    if (!job) {
        return job.error();
    }
    const auto evaluated = core::evaluate(job.value(), file.parent_path());
    if (!evaluated) {  // Reading has named the file itself; what only the model finds has not.
        return geometry::Error{evaluated.error().code, file.string() + ": " + evaluated.error().message};
    }
    const std::shared_ptr<const core::Evaluation> evaluation = evaluated.value();
    CheckedJob checked;
    checked.job = evaluation->job;
    checked.file = file;
    checked.sha256 = std::move(sha256).value();
    checked.findings = evaluation->findings;
    checked.evaluation = evaluation;
    checked.curves = [evaluation] { return clearance_curves(*evaluation); };
    checked.door_limits = [evaluation] { return door_limits_of_job(*evaluation); };
    checked.solids = [evaluation] { return solids_of_job(*evaluation); };
    checked.section_at = [evaluation](geometry::Length along) { return section_of_job(*evaluation, along); };
    return checked;
}

Result<HandedOver> hand_over(const CheckedJob& checked, const std::filesystem::path& folder,
                             const geometry::Watch& watch) {
    const auto json = terminal::findings_json(checked);
    if (!json) {
        return json.error();
    }
    if (watch.stop.stop_requested()) {
        return geometry::Error{geometry::ErrorCode::stopped, "Stopped: nothing was written."};
    }
    const core::Evaluation& evaluation = *checked.evaluation;
    const auto report = core::write_handover(evaluation.job, evaluation.car, evaluation.findings, checked.file, folder,
                                             {{"findings.json", json.value()}});
    if (!report) {
        return report.error();
    }
    return HandedOver{report.value().folder, report.value().files, report.value().notes};
}

}  // namespace

CoreLink core_link() {
    return {check, hand_over};
}

}  // namespace sillwright::app
