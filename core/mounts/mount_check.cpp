#include "core/mounts/mount_check.h"

#include <Eigen/Geometry>
#include <cmath>

#include "core/number_text.h"
#include "geometry/units.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::millimetres;

namespace {

/// A margin nearer to zero than this is zero: rounding of places some metres from the
/// origin, and far below anything that is measured.
constexpr double k_rounding = 1e-9;

double rounded(double margin) {
    return std::abs(margin) < k_rounding ? 0.0 : margin;
}

Input length_input(const std::string& name, double value_mm) {
    return {name, mm_text(millimetres(value_mm))};
}

/// Twice the standard deviation in the direction in which the distance grows.
double take_sd(const Mount& mount, const Landing& landing, const ToBound& to, CheckedMount& checked) {
    const auto sd = landing_sd_mm(mount, landing.normal, to.away);
    if (!sd) {
        checked.missing.push_back("the standard deviation of " + mount.name + "'s along, out and up");
        return 0.0;
    }
    checked.inputs.push_back(
        length_input("twice the mount's standard deviation, in that direction", k_sd_factor * *sd));
    return k_sd_factor * *sd;
}

void at_least(CheckedMount& checked, double found, double required) {
    checked.found = found;
    checked.required = required;
    checked.margin = rounded(found - required);
    checked.at_least = true;
}

void at_most(CheckedMount& checked, double found, double required) {
    checked.found = found;
    checked.required = required;
    checked.margin = rounded(required - found);
    checked.at_least = false;
}

CheckedMount check_reach(const Mount& mount, const FlangeFace& face, const Landing& landing) {
    CheckedMount checked;
    const ToBound& nearest = landing.nearest();
    checked.bound = nearest.bound;
    checked.inputs = {length_input("from the free edge", landing.free_edge.distance_mm),
                      length_input("from the bend", landing.bend.distance_mm),
                      length_input("from the piece's front end", landing.front_end.distance_mm),
                      length_input("from the piece's rear end", landing.rear_end.distance_mm)};
    at_least(checked, nearest.distance_mm, take_sd(mount, landing, nearest, checked));
    for (const std::string& missing : face.missing_for_bend()) {
        checked.missing.push_back(missing);
    }
    return checked;
}

CheckedMount check_edge(const Limits& limits, const Mount& mount, const Landing& landing) {
    CheckedMount checked;
    const ToBound& nearest = landing.hole_edge;
    checked.bound = nearest.bound;
    double required = take_sd(mount, landing, nearest, checked);
    checked.inputs.push_back({"diameters asked for", number_text(limits.edge_distance_diameters)});
    if (mount.fastener.diameter) {
        checked.inputs.push_back(length_input("fastener diameter", in_mm(mount.fastener.diameter->value)));
        required += limits.edge_distance_diameters * in_mm(mount.fastener.diameter->value);
    } else {
        checked.missing.push_back("the diameter of " + mount.name + "'s fastener");
    }
    if (mount.part_slot) {
        checked.inputs.push_back(length_input("slot, centre to the centre of its end", slot_half_mm(mount)));
        if (!mount.part_hole) {
            checked.missing.push_back("the width of " + mount.name + "'s slot in the part");
        }
    }
    at_least(checked, nearest.distance_mm, required);
    return checked;
}

CheckedMount check_bend(const Limits& limits, const Mount& mount, const FlangeFace& face, const Landing& landing) {
    CheckedMount checked;
    checked.bound = FlangeBound::bend;
    double required = in_mm(limits.bend_room.value) + take_sd(mount, landing, landing.bend, checked);
    checked.inputs.push_back(length_input("room beside the head or washer", in_mm(limits.bend_room.value)));
    if (mount.fastener.head_diameter) {
        checked.inputs.push_back(length_input("head or washer diameter", in_mm(mount.fastener.head_diameter->value)));
        required += 0.5 * in_mm(mount.fastener.head_diameter->value);
    } else {
        checked.missing.push_back("the head or washer diameter of " + mount.name + "'s fastener");
    }
    if (const auto flat_from = face.flat_from_mm(millimetres(landing.p_mm.x()))) {
        checked.inputs.push_back(length_input("flat begins, from the drawn root", *flat_from));
    }
    for (const std::string& missing : face.missing_for_bend()) {
        checked.missing.push_back(missing);
    }
    at_least(checked, landing.bend.distance_mm, required);
    return checked;
}

}  // namespace

CheckedMount check_seat_gap(const Limits& limits, const Mount& mount, const Landing& landing) {
    CheckedMount checked;
    const double limit = in_mm(limits.seat_gap.value);
    const double spacer = mount.fastener.spacer ? in_mm(mount.fastener.spacer->value) : 0.0;
    const double gap = landing.down_axis_mm - spacer;
    checked.inputs = {length_input("seat to flange along the axis", landing.down_axis_mm),
                      length_input("spacer", spacer)};
    if (const auto sd = gap_sd_mm(mount, landing.normal)) {
        checked.inputs.push_back(
            length_input("twice the standard deviation of the gap (not in the limit)", k_sd_factor * *sd));
    }
    checked.widest_margin = limit;
    if (gap >= 0.0) {
        at_most(checked, gap, limit);
    } else {
        at_least(checked, gap, -limit);
    }
    return checked;
}

CheckedMount check_seat_angle(const Limits& limits, const Mount& mount, const Landing& landing) {
    CheckedMount checked;
    // By the sine and the cosine: an arc cosine alone has no digits near zero.
    const double angle = std::atan2(mount.axis.cross(landing.normal).norm(), -mount.axis.dot(landing.normal));
    checked.widest_margin = geometry::in_deg(limits.seat_angle);
    at_most(checked, geometry::in_deg(geometry::radians(angle)), geometry::in_deg(limits.seat_angle));
    return checked;
}

CheckedMount check_mount(MountCheck check, const Limits& limits, const Mount& mount, const FlangeFace& face,
                         const Landing& landing) {
    switch (check) {
        case MountCheck::reach:
            return check_reach(mount, face, landing);
        case MountCheck::edge:
            return check_edge(limits, mount, landing);
        case MountCheck::bend:
            return check_bend(limits, mount, face, landing);
        case MountCheck::seat_gap:
            return check_seat_gap(limits, mount, landing);
        case MountCheck::seat_angle:
            return check_seat_angle(limits, mount, landing);
    }
    return {};
}

}  // namespace sillwright::core
