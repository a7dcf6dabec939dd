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

/// Round and close to its fastener; the slot that keeps the part from turning, fitted next; a slot elsewhere.
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
/// Units and frame: millimetres on the flat of the flange: along the part, rearward, and across it, from root to end;
///   `along` and `across` are the unit vectors of that (along, out, up).
/// Half-widths are of a hole's place as seen from the locator; those of the locator itself are none but the play of a
///   close hole.
struct HolePlan {
    std::string mount;
    std::size_t piece = 0;
    Landing landing;
    HoleRole role = HoleRole::clearance;
    double screw_mm = 0.0;         ///< Diameter of the shank.
    double from_locator_mm = 0.0;  ///< Along; negative in front of it.
    double across_from_locator_mm = 0.0;
    Eigen::Vector3d along = Eigen::Vector3d::UnitX(), across = Eigen::Vector3d::UnitY();
    Growth growth;                   ///< Lengthwise.
    Growth growth_across;            ///< By its distance across.
    HalfWidths part, body, locator;  ///< Drilling; survey and car to car; play in the locator.
    HalfWidths tilt;                 ///< Of a fixed fastener, through what it goes through.
    HalfWidths body_play;            ///< Of a loose screw in the body's hole: already taken off `body`.
    HoleSize worst, rss;             ///< Needed.
    HoleSize cut;                    ///< Worst case rounded up to the cutter's step.
    double shift_mm = 0.0;           ///< Of its centre, rearward, from where the axis lands as drawn.
    std::optional<HoleSize> drawn;   ///< What the job has; none if it has no hole there yet.
    double drawn_shift_mm = 0.0;
    std::vector<Input> inputs;
    std::vector<std::string> missing;  ///< What must be known before its size is the whole truth.

    /// Worst case: what an error of this hole may be, each way.
    [[nodiscard]] HalfWidths room() const;
};

/// How good a mount would be as the locator: the longest slot that it asks of any other.
struct LocatorChoice {
    std::string mount;
    double longest_slot_mm = 0.0;
    std::string why_not;  ///< Empty if it can be one: "its hole is a slot".
};

/// Each piece has a locator and a guide of its own; those named here are of the piece with the most mounts, or of that
/// for which the job names them.
struct MountPlan {
    std::vector<HolePlan> holes;  ///< Of mounts with use "flange" that land on a drawn flange, front to rear.
    std::string locator, guide;   ///< Empty if there is none.
    bool locator_proposed = true, guide_proposed = true;
    std::vector<LocatorChoice> choices;  ///< Best first.
    std::vector<std::string> missing;    ///< What must be measured or decided before sizes are the whole truth.
    std::vector<std::string> lost;       ///< Of these: a chosen locator or guide that does not land on a drawn flange.

    [[nodiscard]] const HolePlan* find(const std::string& mount) const;
};

/// Sizes every hole of the flange.
///
/// Length = screw + (e_max - e_min) + 2 (part + body + locator play + tilt), each a half-width; e: see Growth; the
///   centre is moved by -(e_max + e_min)/2 away from the locator. RSS: the half-widths by the root of the sum of their
///   squares (tilt goes with body, which causes it). Width likewise, with twice the growth across, about the landing,
///   as a slot is not moved across.
/// Round ends: the length too has twice the growth across (hundredths of a millimetre), and takes the half-widths
///   across where those are the greater. Then an error anywhere on the circle of the half-widths, or on their ellipse
///   where along is the greater, fits at every growth, exactly.
/// Part = the job's half-width, as seen from the locator's hole. Body = 2 sd of the survey of the difference of the two
///   places: by the book's covariance of both where it is known, else both as independent; and `car_to_car` too if the
///   part must fit others; less the play of a loose screw in its hole of the body (floating fastener rule).
/// Locator: the round factory hole that asks the least of the longest slot of all others, unless the job says another.
///   It is cut close (ISO 273 fine). Play of the locator = half of what its cut hole and, of a loose screw or a factory
///   slot, the body's hole leave.
/// Guide: the neighbour of the locator that is further off (it turns the part less), unless the job says another. It is
///   sized as the others are: a closer one would turn the part by its own error, at the far ends many times that.
/// Tilt, of fixed screws, studs and nuts: what they go through times the lean of the axis as measured; and
///   body · 2 P / D for a screw in a thread (P what it goes through: spacer, flange, paint; D panel and tail).
/// Source: slot rule: common practice, no source; fastener rules: see clearance_rules.h.
MountPlan mount_plan(const Job& job, const CarModel& car);

/// Whether two plans ask the same of line_up: roles, places along, growth, half-widths and holes.
bool same_line_up(const MountPlan& a, const MountPlan& b);

}  // namespace sillwright::core
