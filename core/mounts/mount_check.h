#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/landing.h"
#include "core/skirt/flange_face.h"

namespace sillwright::core {

/// What is asked of a mount on a drawn flange.
enum class MountCheck { reach, edge, bend, seat_gap, seat_angle };

/// The numbers of one check.
///
/// Numbers: as in Finding: millimetres, degrees for the seat angle. Where something
///   is missing, `required` is what is known of it, which is less than the whole.
struct CheckedMount {
    double found = 0.0, required = 0.0, margin = 0.0;
    bool at_least = true;
    double widest_margin = 0.0;  ///< The margin can never be greater; zero if it has no bound.
    FlangeBound bound = FlangeBound::free_edge;
    std::vector<Input> inputs;
    std::vector<std::string> missing;
};

/// Where a mount stands on the flange, held against the job's limits.
///
/// reach: the axis lands on the flat, by twice the standard deviation of its place.
/// edge: hole centre (or that of a slot's end) to the free edge and the piece's ends
///   >= the greater of diameters asked for · fastener diameter, and half the hole (or
///   slot width) + one fastener diameter; + 2 sd.
/// bend: hole centre (or that of a slot's end) to where both faces of the sheet are flat
///   >= half the head, washer or hole, whichever is widest, + room + 2 sd. The bend's own radius and the sheet are in
///   where the flat begins: for a square bend this is R + t from the outside corner.
/// seat_gap: gap along the axis, less the spacer, within the limit either way: negative
///   is flange inside the seat. Its standard deviation is among the inputs, not in the
///   limit: the fastener draws the flange to its seat.
/// seat_angle: between the face's normal and the axis, at most the limit.
/// Each of several bounds is held against the 2 sd of its own direction; the one with the
///   least margin is told.
/// Source: common practice, no source.
CheckedMount check_mount(MountCheck check, const Limits& limits, const Mount& mount, const FlangeFace& face,
                         const Landing& landing);

/// Gap and angle need only the place and its normal, not the bounds of the flange.
CheckedMount check_seat_gap(const Limits& limits, const Mount& mount, const Landing& landing);
CheckedMount check_seat_angle(const Limits& limits, const Mount& mount, const Landing& landing);

/// The job's limits; where its sheet is brittle, `k_brittle_diameters` to a free edge at least.
Limits asked_limits(const Job& job);

/// Hole centre to a free edge of sheet that cracks before it gives, in fastener diameters: 2.5 to 3 by common practice,
/// no source.
constexpr double k_brittle_diameters = 3.0;

/// Standard deviations by which a place is made sure of.
constexpr double k_sd_factor = 2.0;

}  // namespace sillwright::core
