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

/// The gap between an end of the part and what is beside it, in one state of the warmth.
struct EndGap {
    std::string state;  ///< "hot", "cold", "as fitted", "as drawn"
    double gap_mm = 0.0;
};

/// What is known of an end's gap: the part is held at the locator, and its end moves by what the length between grows.
///
/// g = g as drawn - growth of the part over that of the body, from the locator to the end; a part that reaches less far
///   than its locator has its end move the other way.
/// Accuracy: exact for straight growth. Missing: what is not measured; `gaps` then are those that are known all the
/// same.
struct EndGaps {
    std::string piece;  ///< The one that has the end; empty if none is drawn.
    std::size_t piece_index = 0;
    double from_locator_mm = 0.0;  ///< Outward, of the end.
    std::vector<EndGap> gaps;
    std::vector<std::string> missing;
};
EndGaps end_gaps(const Job& job, const CarModel& car, const MountPlan& plan, PartEnd end);

/// `mounts/front end gap`, `mounts/rear end gap`: the least over all states >= `end_gap_least`; `mounts/front end gap,
/// widest`, `mounts/rear end gap, widest`: the greatest <= `end_gap_most`. Mends: the gap as drawn made wider or
/// narrower (the part's end pulled back or brought out by it), computed again. Source: linear expansion; limits common
/// practice, no source.
std::vector<Finding> end_gap_findings(const Job& job, const CarModel& car, const MountPlan& plan);

/// A line of the fitting sheet: the gap to be seen at both ends when the part, and the body behind it, have this
/// temperature.
struct FittingGap {
    geometry::Temperature at;
    std::optional<double> front_mm, rear_mm;  ///< None if something is not measured.
};

/// From `k_coldest_fitting` to `k_hottest_fitting` in steps of `k_fitting_step`, both in. Part and body are equally
/// warm: as they are indoors and in the shade; in the sun the part is warmer and the gaps are smaller.
std::vector<FittingGap> fitting_gaps(const Job& job, const CarModel& car, const MountPlan& plan);

constexpr geometry::Temperature k_coldest_fitting = geometry::celsius(-30.0);
constexpr geometry::Temperature k_hottest_fitting = geometry::celsius(80.0);
constexpr geometry::Temperature k_fitting_step = geometry::celsius(10.0);

}  // namespace sillwright::core
