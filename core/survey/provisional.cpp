// Stands in for parts that are still being written; each part that comes takes its functions out of here.
#include "core/survey/compare.h"
#include "core/survey/hinge_axis.h"
#include "core/survey/results.h"
#include "core/survey/solution.h"
#include "core/survey/start.h"

namespace sillwright::core::survey {

// start
Comparison compare_sides(const Solution& /*first*/, const Solution& /*second*/, double /*limit_mm*/) {
    return {};
}
std::optional<Comparison> compare_set_ups(const Book& /*book*/, double /*limit_mm*/) {
    return {};
}

// flow
Results survey_results(const Job& /*job*/, const std::filesystem::path& /*folder*/, bool /*with_next*/) {
    return {};
}
Job settled(Job job, const Results& /*results*/) {
    return job;
}

}  // namespace sillwright::core::survey
