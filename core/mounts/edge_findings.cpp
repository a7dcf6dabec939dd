#include "core/mounts/edge_findings.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/material.h"
#include "core/mounts/flange_mend.h"
#include "core/mounts/hole_findings.h"
#include "core/mounts/mount_check.h"
#include "core/mounts/mount_finding.h"
#include "core/number_text.h"
#include "core/skirt/flange_face.h"
#include "core/skirt/thickness.h"

namespace sillwright::core {

using Eigen::Vector3d;
using geometry::Force;
using geometry::in_mm;
using geometry::in_mpa;
using geometry::in_newtons;
using geometry::Length;
using geometry::millimetres;
using geometry::Stress;

namespace {

/// Thicknesses in which sheet is sold: common practice, no source.
constexpr double k_sheet_step_mm = 0.5;
/// Unused mounts that are tried where one more would mend.
constexpr std::size_t k_most_tried = 40;
/// Holes to the rear among which the nearest is looked for: more do not lie beside one another on a flange.
constexpr std::size_t k_most_behind = 8;

std::string text(double mm) {
    return mm_text(millimetres(mm));
}

std::string newton_text(double n) {
    return fixed_text(n, 0) + " N";
}

HoleSize size_of(const HolePlan& hole) {
    return hole.drawn.value_or(hole.cut);
}

/// The straight between the centres of a hole's two ends.
struct Core {
    Vector3d from, to;
};

Core core_of(const HolePlan& hole) {
    const HoleSize size = size_of(hole);
    const double half = std::max(0.0, 0.5 * (size.length_mm - size.width_mm));
    const Vector3d centre = hole.landing.p_mm + (hole.drawn ? hole.drawn_shift_mm : hole.shift_mm) * hole.along;
    return {centre - half * hole.along, centre + half * hole.along};
}

double off_straight(const Vector3d& p, const Core& core) {
    const Vector3d way = core.to - core.from;
    const double squared = way.squaredNorm();
    const double part = squared > 0.0 ? std::clamp((p - core.from).dot(way) / squared, 0.0, 1.0) : 0.0;
    return (p - core.from - part * way).norm();
}

double apart_mm(const HolePlan& a, const HolePlan& b) {
    const Core one = core_of(a);
    const Core other = core_of(b);
    return std::min({off_straight(one.from, other), off_straight(one.to, other), off_straight(other.from, one),
                     off_straight(other.to, one)});
}

/// The next holes of a hole's piece to the rear, in order: so many that the nearest is among them.
std::vector<const HolePlan*> behind(const MountPlan& plan, const HolePlan& hole) {
    std::vector<const HolePlan*> all;
    const HolePlan* const end = plan.holes.data() + plan.holes.size();
    for (const HolePlan* one = &hole + 1; one < end && all.size() < k_most_behind; ++one) {
        if (one->piece == hole.piece) {
            all.push_back(one);
        }
    }
    return all;
}

Finding on_flange(const Job& job, const HolePlan& hole, const std::string& name, const std::string& title) {
    Finding finding = mount_finding(job, *find_mount(job, hole.mount), name, title);
    finding.place.along = millimetres(hole.landing.p_mm.x());
    finding.place.on_part_mm = hole.landing.p_mm;
    return finding;
}

Finding next_hole(const Job& job, const HolePlan& hole, const std::vector<const HolePlan*>& others) {
    const HolePlan* nearest = others.front();
    for (const HolePlan* const one : others) {
        nearest = apart_mm(hole, *one) < apart_mm(hole, *nearest) ? one : nearest;
    }
    Finding finding = on_flange(job, hole, "next hole", "its hole and the next");
    const double screw = std::max(hole.screw_mm, nearest->screw_mm);
    const double asked = job.limits.hole_pitch_diameters;
    const double halves = 0.5 * (size_of(hole).width_mm + size_of(*nearest).width_mm);
    finding.formula =
        "between the centres of the nearest ends >= the greater of diameters asked for · fastener diameter, and half "
        "of "
        "both widths + (diameters asked for - 1) · fastener diameter";
    finding.inputs = {{"diameters asked for", number_text(asked)},
                      {"thicker fastener", text(screw)},
                      {"half of both holes' widths", text(halves)}};
    for (const HolePlan* const one : {&hole, nearest}) {
        if (!one->drawn) {
            finding.inputs.push_back({one->mount, "as planned: the part has no hole for it yet"});
        }
        if (one->screw_mm == 0.0) {
            finding.missing.push_back("the diameter of " + one->mount + "'s fastener");
        }
    }
    put_numbers(finding, apart_mm(hole, *nearest), std::max(asked * screw, halves + (asked - 1.0) * screw), true,
                in_mm(job.limits.close_band.value));
    finding.why = "The holes of " + hole.mount + " and " + nearest->mount + " are " + text(*finding.found) +
                  " from one another, between the centres of their nearest ends.";
    return finding;
}

double pitch_mm(const HolePlan& a, const HolePlan& b) {
    return (b.landing.p_mm - a.landing.p_mm).norm();
}

Finding pitch(const Job& job, const HolePlan& hole, const HolePlan& next) {
    Finding finding = on_flange(job, hole, "pitch", "to the next fastener");
    finding.formula = "distance to the next fastener <= pitch";
    put_numbers(finding, pitch_mm(hole, next), in_mm(job.limits.pitch_most.value), false,
                in_mm(job.limits.close_band.value));
    finding.why = "From " + hole.mount + " to " + next.mount + " it is " + text(*finding.found) + ".";
    return finding;
}

Finding overhang(const Job& job, const HolePlan& last, bool front) {
    const Piece& piece = job.skirt.pieces[last.piece];
    const std::string end = front ? "front" : "rear";
    Finding finding = on_flange(job, last, {}, {});
    finding.id = "mounts/" + piece.name + "/" + end + " overhang";
    finding.title = piece.name + ", beyond its " + (front ? "first" : "last") + " fastener";
    finding.formula = "distance from the last fastener to the piece's end <= overhang";
    put_numbers(finding, front ? last.landing.front_end.distance_mm : last.landing.rear_end.distance_mm,
                in_mm(job.limits.overhang_most.value), false, in_mm(job.limits.close_band.value));
    finding.why = "The " + end + " end of " + piece.name + " stands " + text(*finding.found) + " beyond " + last.mount +
                  ", with no fastener.";
    return finding;
}

/// What is said of places alone, without mends.
std::vector<Finding> place_findings(const Job& job, const MountPlan& plan) {
    std::vector<Finding> findings;
    std::vector<std::size_t> begun;
    for (const HolePlan& hole : plan.holes) {
        if (std::find(begun.begin(), begun.end(), hole.piece) == begun.end()) {
            begun.push_back(hole.piece);
            findings.push_back(overhang(job, hole, true));
        }
        const auto others = behind(plan, hole);
        if (others.empty()) {
            findings.push_back(overhang(job, hole, false));
            continue;
        }
        findings.push_back(next_hole(job, hole, others));
        findings.push_back(pitch(job, hole, *others.front()));
    }
    return findings;
}

const Finding* find(const std::vector<Finding>& findings, const std::string& id) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const Finding& one) { return one.id == id; });
    return found == findings.end() ? nullptr : &*found;
}

/// A mount that is not used, used for the flange, where that mends a pitch or an overhang.
std::optional<Mend> use_another(const Job& job, const CarModel& car, const Finding& finding) {
    std::optional<Mend> best;
    std::size_t tried = 0;
    for (std::size_t i = 0; i < job.mounts.size() && tried < k_most_tried; ++i) {
        if (job.mounts[i].use != MountUse::unused) {
            continue;
        }
        ++tried;
        Job trial = job;
        trial.mounts[i].use = MountUse::flange;
        const MountPlan plan = mount_plan(trial, car);
        const std::string& name = job.mounts[i].name;
        const HolePlan* const added = plan.find(name);
        const auto after = place_findings(trial, plan);
        const Finding* const same = find(after, finding.id);
        const Finding* const onward = find(after, "mounts/" + name + "/pitch");
        if (added == nullptr || same == nullptr || *same->margin < 0.0 ||
            (onward != nullptr && *onward->margin < 0.0)) {
            continue;
        }
        if (!best || *same->margin > *best->proven_margin) {
            auto changes = hole_changes(trial, *added);
            changes.insert(changes.begin(), word_change("/mounts/" + std::to_string(i) + "/use", "flange"));
            best = Mend{"Use " + name + " for the flange too.", {}, same->margin, std::move(changes)};
        }
    }
    return best;
}

/// Holes cut as planned where that is enough, else the rearward one of the two left out.
std::optional<Mend> further_apart(const Job& job, const CarModel& car, const MountPlan& plan, const HolePlan& hole,
                                  const Finding& finding) {
    const auto others = behind(plan, hole);
    const HolePlan* nearest = others.front();
    for (const HolePlan* const one : others) {
        nearest = apart_mm(hole, *one) < apart_mm(hole, *nearest) ? one : nearest;
    }
    auto changes = hole_changes(job, hole);
    const auto more = hole_changes(job, *nearest);
    changes.insert(changes.end(), more.begin(), more.end());
    if (const auto trial = with_changes(job, changes)) {
        const auto after = place_findings(trial.value(), mount_plan(trial.value(), car));
        const Finding* const same = find(after, finding.id);
        if (same != nullptr && same->margin && *same->margin >= 0.0) {
            return Mend{"Make the holes of " + hole.mount + " and " + nearest->mount + " as planned.",
                        {},
                        same->margin,
                        std::move(changes)};
        }
    }
    if (nearest->role == HoleRole::locator) {
        return std::nullopt;
    }
    std::vector<FieldChange> left_out{word_change(mount_pointer(job, nearest->mount) + "/use", "unused")};
    if (const auto trial = with_changes(job, left_out)) {
        const auto after = place_findings(trial.value(), mount_plan(trial.value(), car));
        const Finding* const same = find(after, finding.id);
        if (same != nullptr && same->margin && *same->margin >= 0.0) {
            return Mend{"Leave " + nearest->mount + " unused.", {}, same->margin, std::move(left_out)};
        }
    }
    return std::nullopt;
}

void mend_place(Finding& finding, const Job& job, const CarModel& car, const MountPlan& plan) {
    if (finding.state != State::falls_short) {
        return;
    }
    const HolePlan* const hole = plan.find(finding.place.mount);
    if (finding.id.ends_with("/next hole")) {
        finding.mend = further_apart(job, car, plan, *hole, finding);
        if (!finding.mend) {
            finding.mend = Mend{"Leave one of the two mounts unused.", {}, std::nullopt};
        }
        return;
    }
    finding.mend = use_another(job, car, finding);
    if (finding.mend) {
        return;
    }
    finding.mend =
        finding.id.ends_with("/pitch")
            ? Mend{"Find a fastening between the two on the car, or bond the flange there.", {}, std::nullopt}
            : Mend{"Make the piece " + text(-*finding.margin) + " shorter at that end.", {}, std::nullopt};
}

/// The flange at a hole, and what must be borne there.
struct Borne {
    std::optional<Thickness> thickness;
    MaterialNumbers material;
    std::optional<double> demand_n;

    [[nodiscard]] Length thin() const { return thickness->thickness - k_sd_factor * thickness->sd; }
};

Borne borne_at(const Job& job, const CarModel& car, const HolePlan& hole) {
    const Mount& mount = *find_mount(job, hole.mount);
    Borne borne;
    borne.thickness = flange_thickness(job.skirt.pieces[hole.piece], mount.at.along.value, &car.pieces[hole.piece]);
    borne.material = numbers_of(job.skirt.material);
    if (mount.fastener.holds) {
        borne.demand_n = in_newtons(*mount.fastener.holds);
    }
    return borne;
}

/// What both need, listed; whether the demand and the strength are known, without which there is no number.
bool put_borne(Finding& finding, const Job& job, const HolePlan& hole, const Borne& borne,
               const std::optional<Stress>& strength, const std::string& strength_name) {
    finding.unit = Unit::newton;
    if (borne.thickness) {
        finding.inputs.push_back({borne.thickness->computed ? "flange as formed, computed, less two standard deviations"
                                                            : "flange, less two standard deviations",
                                  mm_text(borne.thin())});
    } else {
        finding.missing.push_back("the sheet thickness of " + job.skirt.pieces[hole.piece].name);
    }
    if (strength) {
        finding.inputs.push_back({strength_name, fixed_text(in_mpa(*strength), 1) + " MPa"});
    } else {
        finding.missing.push_back("the " + strength_name + " of the skirt's material");
    }
    if (borne.demand_n) {
        finding.inputs.push_back({"the fastener holds", newton_text(*borne.demand_n)});
    } else {
        finding.missing.push_back("what " + hole.mount + "'s fastener holds");
    }
    if (hole.screw_mm == 0.0) {
        finding.missing.push_back("the diameter of " + hole.mount + "'s fastener");
    }
    finding.why = "It is not known what the edge of " + hole.mount + "'s hole is asked to bear.";
    return borne.thickness && strength && borne.demand_n && hole.screw_mm > 0.0;
}

/// A thicker sheet, in whole steps, by which a force that grows with thickness comes to the demand.
std::optional<Mend> thicker_sheet(const Job& job, const HolePlan& hole, double found_n, double required_n) {
    const Piece& piece = job.skirt.pieces[hole.piece];
    if (piece.flange.thickness || !piece.sheet || !(found_n > 0.0)) {
        return std::nullopt;
    }
    const double sheet = in_mm(piece.sheet->value);
    const double needed = std::ceil(sheet * required_n / found_n / k_sheet_step_mm) * k_sheet_step_mm;
    return Mend{"Take sheet of " + text(needed) + " for " + piece.name + ", or a thicker shank.",
                {},
                found_n * (needed / sheet) - required_n,
                {length_change(job, "/skirt/pieces/" + std::to_string(hole.piece) + "/sheet", millimetres(needed))}};
}

Finding bearing(const Job& job, const CarModel& car, const HolePlan& hole) {
    Finding finding = on_flange(job, hole, "bearing", "edge of its hole bears the fastener");
    finding.formula = "shank · (flange - 2 sd) · bearing strength >= what the fastener holds";
    const Borne borne = borne_at(job, car, hole);
    if (!put_borne(finding, job, hole, borne, borne.material.bearing, "bearing strength")) {
        return finding;
    }
    const double bears = in_newtons(bearing_force(millimetres(hole.screw_mm), borne.thin(), *borne.material.bearing));
    put_numbers(finding, bears, *borne.demand_n, true, 0.0);
    finding.why = *finding.margin < 0.0
                      ? "The edge of the hole gives at " + newton_text(bears) + ", before the fastener does."
                      : "The edge of the hole bears more than its fastener holds.";
    if (finding.state == State::falls_short) {
        finding.mend = thicker_sheet(job, hole, bears, *borne.demand_n);
        if (!finding.mend) {
            finding.mend = Mend{
                "Take a shank of " + text(hole.screw_mm * *borne.demand_n / bears) + " or more.", {}, std::nullopt};
        }
    }
    return finding;
}

/// The nearest edge, less two standard deviations where they are known.
struct ToEdge {
    double distance_mm = std::numeric_limits<double>::infinity();
    FlangeBound bound = FlangeBound::free_edge;
};

ToEdge nearest_edge(const Mount& mount, const HolePlan& hole) {
    ToEdge least;
    for (const ToBound& to : hole.landing.hole_edges) {
        const double sd = landing_sd_mm(mount, hole.landing, to.away).value_or(0.0);
        const double distance = to.distance_mm - k_sd_factor * sd;
        if (distance < least.distance_mm) {
            least = {distance, to.bound};
        }
    }
    return least;
}

/// The flange grown until the hole's edge distance, which is `now_mm` less two standard deviations, is `needed_mm`.
std::optional<Mend> grown_flange(const Job& job, const CarModel& car, const Mount& mount, const HolePlan& hole,
                                 double now_mm, double needed_mm, const std::function<double(double)>& margin_n) {
    Job asked = job;
    asked.limits.edge_distance_diameters = needed_mm / hole.screw_mm;
    const Piece& piece = job.skirt.pieces[hole.piece];
    const auto face = FlangeFace::of(piece, *car.pieces[hole.piece].line, car.pieces[hole.piece].formed.get());
    if (!face) {
        return std::nullopt;
    }
    const CheckedMount checked = check_mount(MountCheck::edge, asked_limits(asked), mount, *face, hole.landing);
    auto mend =
        flange_mend(asked, hole.piece, face->line(), mount, MountCheck::edge, hole.landing, checked, face->formed());
    if (mend) {
        // What that check asks may be more than is needed here; its two standard deviations are off `now_mm` already.
        const double room = checked.required - (checked.found - now_mm);
        mend->proven_margin = margin_n(room + *mend->proven_margin);
    }
    return mend;
}

Finding tear_out(const Job& job, const CarModel& car, const HolePlan& hole) {
    Finding finding = on_flange(job, hole, "tear-out", "fastener tears out to the edge");
    finding.formula =
        "2 · (flange - 2 sd) · (hole's centre to the edge - 2 sd - hole/2) · shear strength >= what the "
        "fastener holds";
    const Mount& mount = *find_mount(job, hole.mount);
    const Borne borne = borne_at(job, car, hole);
    const ToEdge edge = nearest_edge(mount, hole);
    const double width = size_of(hole).width_mm;
    finding.inputs = {
        {"hole (or slot's end), centre to the edge, less two standard deviations", text(edge.distance_mm)},
        {"width of the hole", text(width)}};
    if (!hole.landing.covariance_mm2) {
        finding.missing.push_back("the standard deviation of " + mount.name + "'s along, out and up");
    }
    if (!put_borne(finding, job, hole, borne, borne.material.shear, "shear strength")) {
        return finding;
    }
    const double demand = *borne.demand_n;
    const auto force = [&](double to_edge) {
        return in_newtons(
            tear_out_force(borne.thin(), millimetres(to_edge), millimetres(width), *borne.material.shear));
    };
    put_numbers(finding, force(edge.distance_mm), demand, true, 0.0);
    finding.why = *finding.margin < 0.0
                      ? "The fastener tears out to the edge at " + newton_text(*finding.found) + ", before it lets go."
                      : "The sheet out to the edge bears more than the fastener holds.";
    if (finding.state == State::falls_short) {
        const double needed = demand / (2.0 * in_mm(borne.thin()) * in_mpa(*borne.material.shear)) + 0.5 * width;
        if (edge.bound == FlangeBound::free_edge) {
            finding.mend = grown_flange(job, car, mount, hole, edge.distance_mm, needed,
                                        [&](double to_edge) { return force(to_edge) - demand; });
        }
        if (!finding.mend) {
            finding.mend =
                Mend{"Bring the edge " + text(needed - edge.distance_mm) + " further from the hole.", {}, std::nullopt};
        }
    }
    return finding;
}

}  // namespace

Force bearing_force(Length shank, Length thickness, Stress bearing) {
    return geometry::newtons(in_mm(shank) * in_mm(thickness) * in_mpa(bearing));
}

Force tear_out_force(Length thickness, Length to_edge, Length hole, Stress shear) {
    const double beyond = std::max(0.0, in_mm(to_edge) - 0.5 * in_mm(hole));
    return geometry::newtons(2.0 * in_mm(thickness) * beyond * in_mpa(shear));
}

std::vector<Finding> edge_findings(const Job& job, const CarModel& car, const MountPlan& plan) {
    std::vector<Finding> findings = place_findings(job, plan);
    for (Finding& finding : findings) {
        mend_place(finding, job, car, plan);
    }
    for (const HolePlan& hole : plan.holes) {
        findings.push_back(bearing(job, car, hole));
        findings.push_back(tear_out(job, car, hole));
    }
    return findings;
}

}  // namespace sillwright::core
