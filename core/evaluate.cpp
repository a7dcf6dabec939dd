#include "core/evaluate.h"

#include <iterator>
#include <utility>

#include "core/body_finding.h"
#include "core/buck/station_outline.h"
#include "core/finding_words.h"
#include "core/mounts/reach.h"
#include "core/swing/swing_mend.h"

namespace sillwright::core {

namespace {

void append(std::vector<Finding>& all, std::vector<Finding> more) {
    all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

}  // namespace

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
    append(evaluation->findings, evaluation->car.findings);
    append(evaluation->findings, body_findings(job, evaluation->car));
    append(evaluation->findings, reach_findings(job, evaluation->car));
    append(evaluation->findings, std::move(report.findings));
    append(evaluation->findings, outline_findings(job, station_outlines(job)));
    evaluation->findings = worst_first(std::move(evaluation->findings));
    return std::shared_ptr<const Evaluation>(std::move(evaluation));
}

geometry::Result<std::shared_ptr<const Evaluation>> update(const Job& job, const Evaluation& /*previous*/,
                                                           const std::filesystem::path& folder,
                                                           const geometry::Watch& watch) {
    return evaluate(job, folder, watch);
}

}  // namespace sillwright::core
