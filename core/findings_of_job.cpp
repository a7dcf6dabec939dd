#include "core/findings_of_job.h"

#include <iterator>
#include <utility>

#include "core/body_finding.h"
#include "core/fairness.h"
#include "core/finding_words.h"

namespace sillwright::core {

std::vector<Finding> findings_of_job(const Job& job, const CarModel& car, std::vector<std::vector<Finding>> parts) {
    std::vector<Finding> all = car.findings;
    const auto append = [&all](std::vector<Finding>&& more) {
        all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
    };
    append(body_findings(job, car));
    for (std::vector<Finding>& part : parts) {
        append(std::move(part));
    }
    append(fair_findings(job));
    return worst_first(std::move(all));
}

}  // namespace sillwright::core
