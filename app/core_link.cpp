#include "app/core_link.h"

#include <memory>
#include <utility>

#include "app/checksum.h"
#include "app/link/clearance_curves.h"
#include "app/link/door_limits_of_job.h"
#include "app/link/section_of_job.h"
#include "app/link/solids_of_job.h"
#include "app/print/papers.h"
#include "app/terminal/findings_json.h"
#include "core/buck/buck_plan.h"
#include "core/buck/buck_work.h"
#include "core/evaluate.h"
#include "core/finding_words.h"
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

/// Told of the whole when parts are nested, and when papers are set.
constexpr double k_nested = 0.4;
constexpr double k_printed = 0.9;

geometry::Watch share_of(const geometry::Watch& whole, double from, double to) {
    return {whole.stop, [progress = whole.progress, from, to](double part) {
                if (progress) {
                    progress(from + (to - from) * part);
                }
            }};
}

/// With what is found of the nest too, so that no paper hides it.
std::shared_ptr<const core::Evaluation> with_work(const core::Evaluation& evaluation, const core::BuckWork& work) {
    auto all = std::make_shared<core::Evaluation>(evaluation);
    for (core::Finding& finding : core::work_findings(evaluation.job, work)) {
        std::erase_if(all->findings, [&](const core::Finding& one) { return one.id == finding.id; });
        all->findings.push_back(std::move(finding));
    }
    all->findings = core::worst_first(std::move(all->findings));
    return all;
}

/// From any thread, where there is an application.
Result<HandedOver> hand_over(const CheckedJob& checked, const std::filesystem::path& folder,
                             const geometry::Watch& watch) {
    const core::Evaluation& evaluation = *checked.evaluation;
    const auto work = core::buck_work(evaluation.job, *evaluation.buck, share_of(watch, 0.0, k_nested));
    if (!work) {
        return work.error();
    }
    CheckedJob handed_over = checked;
    const auto with_nest = with_work(evaluation, work.value());
    handed_over.evaluation = with_nest;
    handed_over.findings = with_nest->findings;
    const auto json = terminal::findings_json(handed_over);
    if (!json) {
        return json.error();
    }
    auto files = print::paper_files(*with_nest, work.value(), share_of(watch, k_nested, k_printed));
    if (!files) {
        return files.error();
    }
    std::vector<core::HandoverFile> extra = std::move(files).value();
    extra.push_back({"findings.json", json.value()});
    const auto report = core::write_handover(
        *with_nest, work.value(), {checked.file.filename().string(), checked.sha256}, checked.file, folder, extra);
    if (!report) {
        return report.error();
    }
    return HandedOver{report.value().folder, report.value().files, report.value().notes, with_nest->findings};
}

}  // namespace

CoreLink core_link() {
    return {check, hand_over};
}

}  // namespace sillwright::app
