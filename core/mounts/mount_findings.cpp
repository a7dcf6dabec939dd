#include "core/mounts/mount_findings.h"

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <utility>

#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/mounts/flange_mend.h"
#include "core/mounts/grip.h"
#include "core/mounts/landing.h"
#include "core/mounts/mesh_landing.h"
#include "core/mounts/mount_check.h"
#include "core/mounts/mount_piece.h"
#include "core/number_text.h"
#include "core/sill_frame.h"

namespace sillwright::core {

using geometry::degrees;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

constexpr const char* k_practice = "common practice, no source";

/// What is said of a check whatever its outcome.
struct CheckWords {
    MountCheck check;
    const char* name;   ///< In the id.
    const char* title;  ///< Behind the mount's name.
    const char* formula;
};

constexpr std::array<CheckWords, 5> k_checks{{
    {MountCheck::reach, "reach", "reach of the flange",
     "distance from where the axis meets the flange to each bound of its flat >= 2 sd in that direction"},
    {MountCheck::edge, "edge", "hole to the flange's free edge",
     "hole centre (or centre of a slot's end) to each free edge >= the greater of diameters asked for · fastener "
     "diameter, and half the hole + one fastener diameter; + 2 sd in that direction"},
    {MountCheck::bend, "bend", "hole to the bend",
     "hole centre (or centre of a slot's end) to where both faces are flat (R · tan(bend/2) from the corner of the "
     "drawn line) >= half the widest of head, washer and hole + room + 2 sd"},
    {MountCheck::seat_gap, "seat gap", "flange to its seat",
     "-limit <= distance along the axis from seat to flange - spacer <= limit"},
    {MountCheck::seat_angle, "seat angle", "flange square to the axis",
     "angle between the flange's normal and the mount's axis <= limit"},
}};

Finding blank(const Job& job, const Mount& mount, const CheckWords& words) {
    Finding finding;
    finding.id = "mounts/" + mount.name + "/" + words.name;
    finding.title = mount.name + ", " + words.title;
    finding.stage = Stage::mounts;
    finding.unit = words.check == MountCheck::seat_angle ? Unit::deg : Unit::mm;
    finding.formula = words.formula;
    finding.source = k_practice;
    finding.place.along = mount.at.along.value;
    finding.place.on_other_mm = in_mm(mount.at);
    finding.place.mount = mount.name;
    finding.place.words = mount.name + " " + at_place_words(job, mount.at.along.value);
    return finding;
}

void put_landing(Finding& finding, const Job& job, const Mount& mount, const Eigen::Vector3d& p_mm) {
    finding.place.along = millimetres(p_mm.x());
    finding.place.on_part_mm = p_mm;
    finding.place.words = mount.name + " " + at_place_words(job, millimetres(p_mm.x()));
}

std::string bound_words(FlangeBound bound) {
    switch (bound) {
        case FlangeBound::free_edge:
            return "the flange's free edge";
        case FlangeBound::bend:
            return "the bend";
        case FlangeBound::front_end:
            return "the piece's front end";
        case FlangeBound::rear_end:
            return "the piece's rear end";
    }
    return {};
}

std::string reach_words(const Mount& mount, const CheckedMount& checked, double edge_shortfall) {
    const std::string distance = mm_text(millimetres(std::abs(checked.found)));
    if (checked.found < 0.0) {
        std::string words = "The axis of " + mount.name + " misses: it passes " + distance + " beyond " +
                            bound_words(checked.bound) + ".";
        if (checked.bound == FlangeBound::free_edge && edge_shortfall > 0.0) {
            words.back() = ';';
            words += " for its edge distance the flange would have to grow by about " +
                     mm_text(millimetres(edge_shortfall)) + ".";
        }
        return words;
    }
    // Another bound may still be passed where the margin is negative: that it lands is not said then.
    return "The axis of " + mount.name + (checked.margin < 0.0 ? " comes down " : " lands on the flange, ") + distance +
           " from " + bound_words(checked.bound) +
           (checked.margin < 0.0 ? ", less than twice the standard deviation of its place there." : ".");
}

std::string distance_words(const CheckedMount& checked, const std::string& what) {
    const std::string distance = mm_text(millimetres(std::abs(checked.found)));
    return what + (checked.found < 0.0 ? " lies " + distance + " beyond " : " is " + distance + " from ") +
           bound_words(checked.bound) + ".";
}

std::string gap_words(const CheckedMount& checked, bool spacer) {
    const std::string gap = mm_text(millimetres(std::abs(checked.found)));
    const std::string seat = spacer ? "the spacer" : "its seat";
    if (checked.found < 0.0) {
        return checked.margin < 0.0
                   ? "The flange would lie " + gap + " inside " + seat + ": it is crushed, or holds the part off."
                   : "The flange presses " + gap + " into " + seat + ".";
    }
    return "The flange " + std::string(checked.margin < 0.0 ? "does not reach " : "stands off ") + seat +
           (checked.margin < 0.0 ? ": a gap of " + gap + " stays open." : " by " + gap + ".");
}

std::string why_words(MountCheck check, const Mount& mount, const CheckedMount& checked, const CheckedMount& edge) {
    switch (check) {
        case MountCheck::reach:
            return reach_words(mount, checked, edge.bound == FlangeBound::free_edge ? -edge.margin : 0.0);
        case MountCheck::edge:
        case MountCheck::bend:
            return distance_words(
                checked, mount.part_slot ? "The centre of the hole or of its slot's end" : "The centre of the hole");
        case MountCheck::seat_gap:
            return gap_words(checked, mount.fastener.spacer.has_value());
        case MountCheck::seat_angle:
            return "The flange stands " + degree_text(degrees(checked.found)) + " off square to the axis.";
    }
    return {};
}

double band_of(MountCheck check, const Limits& limits, const CheckedMount& checked) {
    const double band = in_mm(limits.close_band.value);
    if (check == MountCheck::seat_angle) {
        return close_band_within(checked.widest_margin, checked.widest_margin);
    }
    return checked.widest_margin > 0.0 ? close_band_within(band, checked.widest_margin) : band;
}

/// A piece that is too short along the car: no node's move in a section mends that.
std::optional<Mend> longer_piece(const CheckedMount& checked) {
    if (checked.bound != FlangeBound::front_end && checked.bound != FlangeBound::rear_end) {
        return std::nullopt;
    }
    return Mend{"Make the piece " + mm_text(millimetres(-checked.margin)) + " longer at its " +
                    (checked.bound == FlangeBound::front_end ? "front" : "rear") + " end.",
                {},
                std::nullopt};
}

void put_check(Finding& finding, const Job& job, MountCheck check, CheckedMount checked) {
    finding.found = checked.found;
    finding.required = checked.required;
    finding.margin = checked.margin;
    finding.at_least = checked.at_least;
    finding.state = state_of(checked.margin, band_of(check, job.limits, checked), checked.missing);
    finding.inputs = std::move(checked.inputs);
    finding.missing = std::move(checked.missing);
}

/// The flange runs out along the car before it comes to the mount.
Finding run_out(const Job& job, const Mount& mount, const std::string& piece) {
    Finding finding = blank(job, mount, k_checks.front());
    finding.state = State::falls_short;
    finding.why = "The flange of " + piece + " has run out where " + mount.name + " is: there is nothing to land on.";
    return finding;
}

Finding never_meets(const Job& job, const Mount& mount, const std::string& what) {
    Finding finding = blank(job, mount, k_checks.front());
    finding.state = State::falls_short;
    finding.why = "The axis of " + mount.name + " never meets " + what + ", from " +
                  mm_text(millimetres(k_look_back_mm)) + " inside the body to " +
                  mm_text(millimetres(k_look_ahead_mm)) + " away from it.";
    return finding;
}

std::vector<std::string> mesh_lacks(MountCheck check) {
    if (check == MountCheck::bend) {
        return {"where the flange's bend is (the part is a mesh)"};
    }
    return {"where the flange's free edge is (the part is a mesh)"};
}

/// Gap and angle by the plane of the triangle met.
CheckedMount check_on_mesh(MountCheck check, const Job& job, const Mount& mount, const MeshLanding& met) {
    Landing landing;
    landing.p_mm = met.p_mm;
    landing.normal = met.normal;
    landing.down_axis_mm = met.down_axis_mm;
    return check == MountCheck::seat_gap ? check_seat_gap(job.limits, mount, landing)
                                         : check_seat_angle(job.limits, mount, landing);
}

/// Any triangle turned to the car may be met: that it is the flange's is taken only where
/// its gap and its angle hold too.
void put_mesh_reach(Finding& finding, const Job& job, const Mount& mount, const Piece& part, const MeshLanding& met) {
    const CheckedMount gap = check_on_mesh(MountCheck::seat_gap, job, mount, met);
    const CheckedMount angle = check_on_mesh(MountCheck::seat_angle, job, mount, met);
    const std::string meets = "The axis of " + mount.name + " meets " + part.name + " " +
                              mm_text(millimetres(met.down_axis_mm)) + " from the seat";
    if (gap.margin >= 0.0 && angle.margin >= 0.0) {
        finding.state = State::holds;
        finding.why = meets + "; a mesh does not say how far its flange goes on from there.";
        return;
    }
    finding.why = meets + ", not as a flange that seats there would: what it meets may be another face.";
    finding.missing = {"where the flange is (the part is a mesh)"};
}

}  // namespace

std::vector<Finding> drawn_mount_findings(const Job& job, const CarModel& car, const Mount& mount, std::size_t piece,
                                          const FlangeFace& face, Mends mends, const std::stop_token& stop,
                                          const Landing* known) {
    const Piece& part = job.skirt.pieces[piece];
    std::vector<Finding> findings;
    auto landed = known != nullptr ? std::optional(*known) : landing(mount, face);
    if (!landed) {
        findings.push_back(face.at(mount.at.along.value) ? never_meets(job, mount, "the flange of " + part.name)
                                                         : run_out(job, mount, part.name));
        findings.push_back(grip_finding(job, mount, part, &car.pieces[piece]));
        return findings;
    }
    take_covariance(car, mount, *landed);
    const Limits limits = asked_limits(job);
    const CheckedMount edge = check_mount(MountCheck::edge, limits, mount, face, *landed);
    for (const CheckWords& words : k_checks) {
        const CheckedMount checked =
            words.check == MountCheck::edge ? edge : check_mount(words.check, limits, mount, face, *landed);
        Finding finding = blank(job, mount, words);
        put_landing(finding, job, mount, landed->p_mm);
        put_check(finding, job, words.check, checked);
        finding.why = why_words(words.check, mount, checked, edge);
        if (finding.state == State::falls_short && mends == Mends::look_for && !stop.stop_requested()) {
            finding.mend = flange_mend(job, piece, face.line(), mount, words.check, *landed, checked, face.formed());
            if (!finding.mend) {
                finding.mend = longer_piece(checked);
            }
        }
        findings.push_back(std::move(finding));
    }
    findings.push_back(grip_finding(job, mount, part, &car.pieces[piece]));
    return findings;
}

std::vector<Finding> mesh_mount_findings(const Job& job, const Mount& mount, std::size_t piece,
                                         const geometry::Mesh& mesh) {
    const Piece& part = job.skirt.pieces[piece];
    std::vector<Finding> findings;
    const auto met = mesh_landing(mount, mesh);
    if (!met) {
        findings.push_back(never_meets(job, mount, part.name));
        findings.push_back(grip_finding(job, mount, part));
        return findings;
    }
    for (const CheckWords& words : k_checks) {
        Finding finding = blank(job, mount, words);
        put_landing(finding, job, mount, met->p_mm);
        if (words.check == MountCheck::seat_gap || words.check == MountCheck::seat_angle) {
            const CheckedMount checked = check_on_mesh(words.check, job, mount, *met);
            put_check(finding, job, words.check, checked);
            finding.why = why_words(words.check, mount, checked, checked);
        } else if (words.check == MountCheck::reach) {
            put_mesh_reach(finding, job, mount, part, *met);
        } else {
            finding.why = "A mesh does not say where its flange ends.";
            finding.missing = mesh_lacks(words.check);
        }
        findings.push_back(std::move(finding));
    }
    findings.push_back(grip_finding(job, mount, part));
    return findings;
}

std::vector<Finding> unmeasured_mount_findings(const Job& job, const Mount& mount,
                                               const std::vector<std::string>& missing) {
    std::vector<Finding> findings;
    for (const CheckWords& words : k_checks) {
        Finding finding = blank(job, mount, words);
        finding.why = "There is no flange to land on yet.";
        finding.missing = missing;
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace sillwright::core
