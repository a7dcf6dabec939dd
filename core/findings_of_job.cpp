#include "core/findings_of_job.h"

#include <iterator>
#include <utility>

#include "core/body_finding.h"
#include "core/fairness.h"
#include "core/finding_words.h"

namespace sillwright::core {

std::vector<Finding> findings_of_job(const Job& job, const CarModel& car, std::vector<Finding> reach,
                                     std::vector<Finding> swing, std::vector<Finding> outlines,
                                     std::vector<Finding> measured) {
    std::vector<Finding> all = car.findings;
    std::vector<Finding> body = body_findings(job, car);
    std::vector<Finding> fair = fair_findings(job);
    for (std::vector<Finding>* more : {&body, &measured, &reach, &swing, &outlines, &fair}) {
        all.insert(all.end(), std::make_move_iterator(more->begin()), std::make_move_iterator(more->end()));
    }
    return worst_first(std::move(all));
}

}  // namespace sillwright::core
