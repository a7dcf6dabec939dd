#include "core/buck/buck_work.h"

#include <iterator>
#include <utility>

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

std::vector<Finding> work_findings(const Job& job, const BuckPlan& plan, const BuckWork& work) {
    std::vector<Finding> all = cut_findings(job, plan, work.parts);
    if (!work.parts.empty()) {
        std::vector<Finding> nest = nesting_findings(job, work.parts, work.nesting);
        all.insert(all.end(), std::make_move_iterator(nest.begin()), std::make_move_iterator(nest.end()));
    }
    return all;
}

}  // namespace sillwright::core
