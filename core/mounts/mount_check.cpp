#include "core/mounts/mount_check.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/material.h"
#include "core/number_text.h"
#include "geometry/units.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::millimetres;

namespace {

/// A margin nearer to zero than this is zero: rounding of places some metres from the
/// origin, and far below anything that is measured.
constexpr double k_rounding = 1e-9;

/// Sheet that stays between a hole's edge and a free edge, in diameters of the fastener:
/// common practice, no source.
constexpr double k_sheet_beyond_hole_diameters = 1.0;

double rounded(double margin) {
    return std::abs(margin) < k_rounding ? 0.0 : margin;
}

Input length_input(const std::string& name, double value_mm) {
    return {name, mm_text(millimetres(value_mm))};
}

/// A bound, and twice the standard deviation in the direction in which its distance grows.
struct SureOf {
    ToBound to;
    double twice_sd_mm = 0.0;

    [[nodiscard]] double margin_mm() const { return to.distance_mm - twice_sd_mm; }
};

/// The bound with the least margin. Each asks for the sureness of its own direction, so
/// that it need not be the nearest.
SureOf least_sure(const Mount& mount, const Landing& landing, const std::vector<ToBound>& bounds,
                  CheckedMount& checked) {
    std::optional<SureOf> least;
    bool known = true;
    for (const ToBound& to : bounds) {
        const auto sd = landing_sd_mm(mount, landing, to.away);
        known = known && sd;
        const SureOf one{to, sd ? k_sd_factor * *sd : 0.0};
        if (!least || one.margin_mm() < least->margin_mm()) {
            least = one;
        }
    }
    if (known) {
        checked.inputs.push_back(
            length_input("twice the mount's standard deviation, in that direction", least->twice_sd_mm));
    } else {
        checked.missing.push_back("the standard deviation of " + mount.name + "'s along, out and up");
    }
    checked.bound = least->to.bound;
    return *least;
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
    checked.inputs = {length_input("from the free edge", landing.free_edge.distance_mm),
                      length_input("from the bend", landing.bend.distance_mm),
                      length_input("from the piece's front end", landing.front_end.distance_mm),
                      length_input("from the piece's rear end", landing.rear_end.distance_mm)};
    const SureOf least = least_sure(mount, landing, landing.bounds(), checked);
    at_least(checked, least.to.distance_mm, least.twice_sd_mm);
    for (const std::string& missing : face.missing_for_bend()) {
        checked.missing.push_back(missing);
    }
    return checked;
}

/// From a hole's centre to its edge; nothing if the hole in the part is not given.
std::optional<double> hole_half_mm(const Mount& mount) {
    return mount.part_hole ? std::optional{0.5 * in_mm(mount.part_hole->value)} : std::nullopt;
}

/// What the hole's centre must keep from an edge, of what is known: the greater of so many
/// diameters of the fastener, and half the hole with the sheet that stays beyond it.
double edge_room_mm(const Limits& limits, const Mount& mount) {
    const double diameter = mount.fastener.diameter ? in_mm(mount.fastener.diameter->value) : 0.0;
    return std::max(limits.edge_distance_diameters * diameter,
                    hole_half_mm(mount).value_or(0.0) + k_sheet_beyond_hole_diameters * diameter);
}

CheckedMount check_edge(const Limits& limits, const Mount& mount, const Landing& landing) {
    CheckedMount checked;
    const SureOf least = least_sure(mount, landing, landing.hole_edges, checked);
    checked.inputs.push_back({"diameters asked for", number_text(limits.edge_distance_diameters)});
    if (mount.fastener.diameter) {
        checked.inputs.push_back(length_input("fastener diameter", in_mm(mount.fastener.diameter->value)));
    } else {
        checked.missing.push_back("the diameter of " + mount.name + "'s fastener");
    }
    if (const auto half = hole_half_mm(mount)) {
        checked.inputs.push_back(length_input("half the hole in the part", *half));
        checked.inputs.push_back(length_input("hole edge to free edge", least.to.distance_mm - *half));
    } else {
        checked.missing.push_back(mount.part_slot ? "the width of " + mount.name + "'s slot in the part"
                                                  : "the diameter of " + mount.name + "'s hole in the part");
    }
    if (mount.part_slot) {
        checked.inputs.push_back(length_input("slot, centre to the centre of its end", slot_half_mm(mount)));
    }
    at_least(checked, least.to.distance_mm, edge_room_mm(limits, mount) + least.twice_sd_mm);
    return checked;
}

CheckedMount check_bend(const Limits& limits, const Mount& mount, const FlangeFace& face, const Landing& landing) {
    CheckedMount checked;
    const SureOf least = least_sure(mount, landing, landing.hole_bends, checked);
    const double hole = hole_half_mm(mount).value_or(0.0);
    double beside = hole;
    checked.inputs.push_back(length_input("room beside the head, washer or hole", in_mm(limits.bend_room.value)));
    if (mount.fastener.head_diameter) {
        checked.inputs.push_back(length_input("head or washer diameter", in_mm(mount.fastener.head_diameter->value)));
        beside = std::max(beside, 0.5 * in_mm(mount.fastener.head_diameter->value));
    } else {
        checked.missing.push_back("the head or washer diameter of " + mount.name + "'s fastener");
    }
    if (mount.part_hole) {
        checked.inputs.push_back(length_input("hole edge to bend", least.to.distance_mm - hole));
    }
    if (const auto flat_from = face.flat_from_mm(millimetres(landing.p_mm.x()))) {
        checked.inputs.push_back(length_input("flat begins, from the drawn root", *flat_from));
    }
    for (const std::string& missing : face.missing_for_bend()) {
        checked.missing.push_back(missing);
    }
    at_least(checked, least.to.distance_mm, in_mm(limits.bend_room.value) + beside + least.twice_sd_mm);
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
    if (const auto sd = gap_sd_mm(mount, landing)) {
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

Limits asked_limits(const Job& job) {
    Limits limits = job.limits;
    if (const MaterialNumbers* const sheet = find_material(job.skirt.material.name);
        sheet != nullptr && sheet->brittle) {
        limits.edge_distance_diameters = std::max(limits.edge_distance_diameters, k_brittle_diameters);
    }
    return limits;
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
