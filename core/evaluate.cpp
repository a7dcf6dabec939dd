#include "core/evaluate.h"

#include <algorithm>
#include <limits>
#include <tuple>
#include <utility>

#include "core/mounts/reach.h"
#include "core/swing/swing_mend.h"

namespace sillwright::core {

namespace {

int rank(State state) {
    switch (state) {
        case State::falls_short:
            return 0;
        case State::close:
            return 1;
        case State::not_measured:
            return 2;
        case State::holds:
            return 3;
    }
    return 4;
}

void append(std::vector<Finding>& all, std::vector<Finding> more) {
    all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

}  // namespace

void sort_findings(std::vector<Finding>& findings) {
    // A finding that falls short without a number is as bad as can be.
    const auto key = [](const Finding& finding) {
        const double unknown = finding.state == State::falls_short ? -std::numeric_limits<double>::infinity()
                                                                   : std::numeric_limits<double>::infinity();
        return std::tuple(rank(finding.state), finding.margin.value_or(unknown), finding.id);
    };
    std::stable_sort(findings.begin(), findings.end(),
                     [&](const Finding& a, const Finding& b) { return key(a) < key(b); });
}

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
            auto mend = swing_mend(job, evaluation->car, finding, folder, watch);
            if (!mend) {
                return mend.error();
            }
            finding.mend = std::move(mend).value();
        }
    }
    evaluation->outcomes = std::move(report.outcomes);
    append(evaluation->findings, evaluation->car.findings);
    append(evaluation->findings, reach_findings(job, evaluation->car));
    append(evaluation->findings, std::move(report.findings));
    sort_findings(evaluation->findings);
    return std::shared_ptr<const Evaluation>(std::move(evaluation));
}

}  // namespace sillwright::core
