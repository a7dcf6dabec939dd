#include "core/evaluate.h"

#include <utility>

#include "core/buck/station_outline.h"
#include "core/findings_of_job.h"
#include "core/mounts/reach.h"
#include "core/swing/swing_mend.h"

namespace sillwright::core {

geometry::Result<std::shared_ptr<const Evaluation>> evaluate(const Job& job, const std::filesystem::path& folder,
                                                             const geometry::Watch& watch) {
    auto evaluation = std::make_shared<Evaluation>();
    evaluation->job = job;
    auto car = car_model(job, folder);
    if (!car) {
        return car.error();
    }
    evaluation->car = std::move(car).value();
    auto swing = check_swing(job, evaluation->car, watch);
    if (!swing) {
        return swing.error();
    }
    SwingReport report = std::move(swing).value();
    for (Finding& finding : report.findings) {
        if (finding.state == State::falls_short) {
            auto mend = swing_mend(job, evaluation->car, report.body.get(), finding, folder, watch);
            if (!mend) {
                return mend.error();
            }
            finding.mend = std::move(mend).value();
        }
    }
    evaluation->outcomes = std::move(report.outcomes);
    evaluation->body = std::move(report.body);
    evaluation->findings = findings_of_job(job, evaluation->car, reach_findings(job, evaluation->car),
                                           std::move(report.findings), outline_findings(job, station_outlines(job)));
    return std::shared_ptr<const Evaluation>(std::move(evaluation));
}

geometry::Result<std::shared_ptr<const Evaluation>> update(const Job& job, const Evaluation& /*previous*/,
                                                           const std::filesystem::path& folder,
                                                           const geometry::Watch& watch) {
    return evaluate(job, folder, watch);
}

}  // namespace sillwright::core
