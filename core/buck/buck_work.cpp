#include "core/buck/buck_work.h"

#include <iterator>
#include <utility>

#include "core/buck/cut_findings.h"

namespace sillwright::core {

geometry::Result<BuckWork> buck_work(const Job& job, const BuckPlan& plan, const geometry::Watch& watch,
                                     const std::function<void(const Nesting&)>& better) {
    BuckWork work;
    auto parts = cut_parts(job, plan);
    if (!parts) {
        return parts.error();
    }
    work.parts = std::move(parts).value();
    if (work.parts.empty()) {
        return work;
    }
    auto nest = nesting(job, work.parts, watch, better);
    if (!nest) {
        return nest.error();
    }
    work.nesting = std::move(nest).value();
    return work;
}

std::vector<Finding> parts_findings(const Job& job, const BuckPlan& plan, Mends mends) {
    const auto parts = cut_parts(job, plan);
    if (!parts) {
        Finding finding;
        finding.id = "buck/parts";
        finding.title = "Parts for the router";
        finding.stage = Stage::buck;
        finding.state = State::falls_short;
        finding.why = parts.error().message;
        finding.formula = "every board of the buck has an outline that can be cut";
        finding.source = "geometry; no source needed";
        return {finding};
    }
    std::vector<Finding> all = cut_findings(job, plan, parts.value(), mends);
    if (!parts.value().empty()) {
        std::vector<Finding> boards = board_findings(job, parts.value());
        all.insert(all.end(), std::make_move_iterator(boards.begin()), std::make_move_iterator(boards.end()));
    }
    return all;
}

std::vector<Finding> work_findings(const Job& job, const BuckWork& work) {
    return work.parts.empty() ? std::vector<Finding>() : nesting_findings(job, work.parts, work.nesting);
}

}  // namespace sillwright::core
