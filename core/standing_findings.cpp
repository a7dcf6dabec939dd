#include "core/standing_findings.h"

#include <iterator>
#include <utility>

#include "core/buck/buck_plan.h"
#include "core/buck/buck_work.h"
#include "core/forming/forming_plan.h"
#include "core/holding/holding.h"
#include "core/keep_outs/keep_out_findings.h"

namespace sillwright::core {

std::vector<Finding> standing_findings(const Job& job, const CarModel& car, const MountPlan& plan,
                                       const LineUp& line_up, const FormingPlan& forming, const BuckPlan& buck,
                                       Mends mends, const Prototype& prototype) {
    std::vector<Finding> all;
    all.push_back(line_up_finding(job, plan, line_up, mends));
    const auto append = [&all](std::vector<Finding> more) {
        all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
    };
    append(holding_findings(job, car, plan, mends));
    append(keep_out_findings(job, car, plan, mends));
    append(forming_findings(job, car, plan, forming, mends, prototype));
    append(buck_findings(job, car, forming, buck, mends));
    append(parts_findings(job, buck, mends));
    return all;
}

}  // namespace sillwright::core
