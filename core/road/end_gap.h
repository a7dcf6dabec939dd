#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "geometry/units.h"

namespace sillwright::core {

enum class PartEnd { front, rear };

/// The gap between an end of the part and what is beside it, in every state.
///
/// Units and frame: millimetres along the car. gap = as drawn - growth of the part from its locator to that end, less
///   the body's, which carries what is beside it (growth.h): a hot part closes it.
struct EndGap {
    struct At {
        std::string state;
        double mm = 0.0;
    };
    double length_mm = 0.0;  ///< From the locator to the end.
    std::vector<At> states;  ///< "as drawn" is always there.
    double least_mm = 0.0, greatest_mm = 0.0;
};

/// No value without a gap as drawn, or without a drawn piece that has a locator. What is not known of warmth is left
/// out: growth_rates says what is missing.
std::optional<EndGap> end_gap(const Job& job, const CarModel& car, const MountPlan& plan, PartEnd end);

/// The gap to be left when the part is fitted at a temperature that part and body share, for who fits it.
struct GapAtTemperature {
    geometry::Temperature at;
    double mm = 0.0;
};
/// Empty where end_gap has no value or an expansion is not known.
std::vector<GapAtTemperature> end_gap_table(const Job& job, const CarModel& car, const MountPlan& plan, PartEnd end,
                                            const std::vector<geometry::Temperature>& temperatures);

/// `mounts/front end gap/hot` and `/cold`, and those of the rear end: the least gap of all states at least
/// `end_gap_least`, the greatest at most `end_gap_most`.
/// Mends: the end drawn further back or forth, as far as both then hold; computed again.
/// Source: linear expansion; the limits: common practice, no source.
std::vector<Finding> end_gap_findings(const Job& job, const CarModel& car, const MountPlan& plan);

}  // namespace sillwright::core
