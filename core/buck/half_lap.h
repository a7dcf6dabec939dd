#pragma once

#include <optional>
#include <vector>

#include "core/buck/buck_plan.h"

namespace sillwright::core {

/// What the half-laps of a piece's buck are made by.
struct LapMaking {
    double spine_thickness_mm = 0.0, fit_mm = 0.0, extra_mm = 0.0, step_mm = 0.0;
    std::optional<double> height_mm;  ///< Of the first spine.
    SpineCount count = SpineCount::two;
};

LapMaking lap_making(const Buck& buck, double spine_thickness_mm);

/// Room that the ribs leave.
struct StripRoom {
    double low_mm = 0.0, high_mm = 0.0;  ///< Sides between which all ribs stand on the base; none if not low < high.
};
StripRoom common_foot(const std::vector<Rib>& ribs);
/// Height up to which the upright strip between two sides is inside a rib's both faces; zero where it is not at all.
double height_inside_mm(const Rib& rib, double low_mm, double high_mm);

/// Of the first spine, where the keys find the most room: what it may be high, and what its half-laps need with no step
/// from rib to rib.
struct LapRoom {
    double most_high_mm = 0.0, needed_mm = 0.0;
};
LapRoom lap_room(const std::vector<Rib>& ribs, const LapMaking& making);

/// Spines of ribs that have none, and the slots in both; nothing is done, and no spine given, where there is no room.
///
/// Half-lap: each rib and each spine have their split height s; the rib's slot goes up to s + extra, the spine's down
///   to s - extra, so that both stand on the base with an upright play of twice extra.
/// Keys: s rises by a step from rib to rib on the first spine and falls by it on the second, and is greater on the
///   first everywhere: a rib in any other place, or turned, stands off the base by a step less twice extra at least.
/// Places: at one quarter and three quarters of the common width, or where the keys find the most room near there. The
///   step is the one asked for, or as great as there is room for.
std::vector<Spine> lay_spines(std::vector<Rib>& ribs, const LapMaking& making);

/// Common practice, no source: less splinters off.
constexpr double k_wall_beside_slot_mm = 12.0;
constexpr double k_wood_above_slot_mm = 15.0;
constexpr double k_spine_left_mm = 15.0;  ///< Of a spine, below its deepest slot.
/// Beyond the outermost ribs: what closes their slots. Less than the trim allowance that is usual beyond the ends.
constexpr double k_spine_overhang_mm = 15.0;
constexpr double k_spine_overlap_mm = 10.0;  ///< Least depth of a spine's slot.
constexpr double k_spines_differ_mm = 20.0;  ///< In height, where there is room: so that one is not taken for another.
/// A rib that stands up by less is not seen on the bench: common practice, no source.
constexpr double k_seen_lift_mm = 2.0;

}  // namespace sillwright::core
