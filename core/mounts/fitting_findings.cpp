#include "core/mounts/fitting_findings.h"

#include <iterator>
#include <utility>

#include "core/mounts/edge_findings.h"
#include "core/mounts/fastener_findings.h"
#include "core/mounts/hole_findings.h"

namespace sillwright::core {

std::vector<Finding> fitting_findings(const Job& job, const CarModel& car, const MountPlan& plan) {
    std::vector<Finding> findings = hole_findings(job, car, plan);
    for (auto more : {fastener_findings(job, car), edge_findings(job, car, plan)}) {
        std::move(more.begin(), more.end(), std::back_inserter(findings));
    }
    return findings;
}

}  // namespace sillwright::core
