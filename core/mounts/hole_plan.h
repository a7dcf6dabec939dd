#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/landing.h"

namespace sillwright::core {

/// Round and close to its fastener; a slot that keeps the part from turning; a slot with play both ways.
enum class HoleRole { locator, guide, clearance };

/// How much further a hole of the part goes from the locator than its mount does, over all states.
struct Growth {
    struct At {
        std::string state;  ///< "hot", "cold", "as fitted", "as drawn"
        double mm = 0.0;    ///< Part's growth less the body's; positive away from the locator.
    };
    std::vector<At> states;  ///< "as drawn" (0) is always there.
    double least_mm = 0.0, greatest_mm = 0.0;
};

/// Over all, lengthwise (along the part) and across it.
struct HoleSize {
    double length_mm = 0.0, width_mm = 0.0;

    friend bool operator==(const HoleSize&, const HoleSize&) = default;
};

/// A half-width of where something is, for each of the two ways of the flat: worst case limits.
struct HalfWidths {
    double along_mm = 0.0, across_mm = 0.0;
};

/// What to make in the flange for one mount.
///
/// Units and frame: millimetres on the flat of the flange: along the part, rearward, and across it, from root to end.
struct HolePlan {
    std::string mount;
    std::size_t piece = 0;
    Landing landing;
    HoleRole role = HoleRole::clearance;
    double screw_mm = 0.0;         ///< Diameter of the shank.
    double from_locator_mm = 0.0;  ///< Along; negative in front of it.
    Growth growth;
    HalfWidths part, body, locator;  ///< Drilling; survey and car to car; play in the locator.
    HoleSize worst, rss;             ///< Needed.
    HoleSize cut;                    ///< Worst case rounded up to the cutter's step.
    double shift_mm = 0.0;           ///< Of its centre, rearward, from where the axis lands as drawn.
    std::optional<HoleSize> drawn;   ///< What the job has; none if it has no hole there yet.
    double drawn_shift_mm = 0.0;
    std::vector<Input> inputs;
};

/// How good a mount would be as the locator: the longest slot that it asks of any other.
struct LocatorChoice {
    std::string mount;
    double longest_slot_mm = 0.0;
    std::string why_not;  ///< Empty if it can be one: "its hole is a slot".
};

struct MountPlan {
    std::vector<HolePlan> holes;  ///< Of mounts with use "flange" that land on a drawn flange, front to rear.
    std::string locator, guide;   ///< Empty if there is none.
    bool locator_proposed = true, guide_proposed = true;
    std::vector<LocatorChoice> choices;  ///< Best first.
    std::vector<std::string> missing;    ///< What must be measured or decided before sizes are the whole truth.

    [[nodiscard]] const HolePlan* find(const std::string& mount) const;
};

/// Sizes every hole of the flange.
///
/// Length = screw + (e_max - e_min) + 2 (part + body + locator play), each a half-width; e: see Growth; the centre is
///   moved by -(e_max + e_min)/2 away from the locator. RSS: the three half-widths by the root of the sum of their
///   squares. Width likewise, with the growth across.
/// Body = 2 sd of this car's survey in that direction, and `car_to_car` too if the part must fit others.
/// Source: slot rule and floating fastener rule, see clearance_rules.h.
MountPlan mount_plan(const Job& job, const CarModel& car);

/// Whether two plans ask the same of line_up: roles, places along, growth, half-widths and holes.
bool same_line_up(const MountPlan& a, const MountPlan& b);

}  // namespace sillwright::core
