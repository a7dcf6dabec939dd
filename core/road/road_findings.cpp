#include "core/road/road_findings.h"

#include <iterator>
#include <utility>

#include "core/road/drainage.h"
#include "core/road/ground.h"
#include "core/road/outer_edges.h"

namespace sillwright::core {

std::vector<Finding> road_findings(const Job& job, const CarModel& car, const MountPlan& /*plan*/, Mends mends) {
    std::vector<Finding> all = ground_findings(job, car, mends);
    std::vector<Finding> edges = outer_edge_findings(job, car, mends);
    std::vector<Finding> water = drainage_findings(job, car, mends);
    for (std::vector<Finding>* more : {&edges, &water}) {
        all.insert(all.end(), std::make_move_iterator(more->begin()), std::make_move_iterator(more->end()));
    }
    return all;
}

}  // namespace sillwright::core
