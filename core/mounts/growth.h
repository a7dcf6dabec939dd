#pragma once

#include <string>
#include <vector>

#include "core/job.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::core {

/// By how much a millimetre of the part grows more than a millimetre of the body behind it, in one state.
struct GrowthRate {
    std::string state;  ///< "hot", "cold", "as fitted", "as drawn"
    double per_mm = 0.0;
    std::string words;  ///< "part 80 °C, body 40 °C"
};

/// All states of which everything is known; "as drawn", whose rate is zero, is always the last.
struct GrowthRates {
    std::vector<GrowthRate> states;
    std::vector<std::string> missing;
};

/// rate = expansion of the part · (its temperature - that at which it was drawn), less the same of the body, whose
/// temperature is its own.
/// Missing: a temperature that is not given, the part's or the body's expansion; such a state is left out.
/// Source: linear expansion; expansions: the job's own, else resources/materials.json.
GrowthRates growth_rates(const Job& job);

/// What that makes of a distance from the locator, its sign left out: positive is away from the locator.
Growth growth(const GrowthRates& rates, double distance_mm);

}  // namespace sillwright::core
