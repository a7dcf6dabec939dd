#include "core/mounts/hole_findings.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/edit/field_change.h"
#include "core/mounts/mount_finding.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::millimetres;

namespace {

/// A slot so little longer than it is wide is round.
constexpr double k_round_mm = 1e-6;
/// Of the mounts that could be the locator, so many are told.
constexpr std::size_t k_choices_told = 5;

std::string text(double mm) {
    return mm_text(millimetres(mm));
}

std::string size_text(const HoleSize& size) {
    return size.length_mm - size.width_mm > k_round_mm ? "a slot " + text(size.length_mm) + " x " + text(size.width_mm)
                                                       : "a round hole of " + text(size.width_mm);
}

bool is_round(const HoleSize& size) {
    return size.length_mm - size.width_mm <= k_round_mm;
}

std::string role_words(HoleRole role) {
    switch (role) {
        case HoleRole::locator:
            return "the locator";
        case HoleRole::guide:
            return "the guide";
        case HoleRole::clearance:
            return "play both ways";
    }
    return {};
}

/// As it is once its mend is taken.
HolePlan as_cut(HolePlan hole) {
    hole.drawn = hole.cut;
    hole.drawn_shift_mm = hole.shift_mm;
    return hole;
}

double half_length_mm(const HolePlan& hole) {
    return 0.5 * hole.drawn->length_mm - std::abs(hole.drawn_shift_mm - hole.shift_mm);
}

void put_hole(Finding& finding, const HolePlan& hole) {
    finding.unit = Unit::mm;
    finding.place.along = millimetres(hole.landing.p_mm.x());
    finding.place.on_part_mm = hole.landing.p_mm;
    finding.inputs = hole.inputs;
    finding.inputs.insert(finding.inputs.begin(), {"role", role_words(hole.role)});
    finding.missing = hole.missing;
}

void put_mend(Finding& finding, const Job& job, const HolePlan& hole, double margin) {
    if (finding.margin && *finding.margin >= 0.0) {
        return;
    }
    const double shift = hole.shift_mm;
    const std::string moved =
        shift == 0.0 ? std::string{}
                     : ", its middle moved " + text(std::abs(shift)) + (shift < 0.0 ? " to the front" : " to the rear");
    finding.mend = Mend{"Make it " + size_text(hole.cut) + moved + ".", {}, margin, hole_changes(job, hole)};
}

Finding not_drawn(Finding finding, const Job& job, const HolePlan& hole, double margin) {
    finding.missing.insert(finding.missing.begin(), "the diameter of " + hole.mount + "'s hole in the part");
    finding.why = "The part has no hole for " + hole.mount + " yet; " + size_text(hole.cut) + " is needed.";
    put_mend(finding, job, hole, margin);
    return finding;
}

Finding slot_finding(const Job& job, const Mount& mount, const HolePlan& hole) {
    Finding finding = mount_finding(job, mount, "slot", "length and place of its hole");
    put_hole(finding, hole);
    finding.formula =
        "half the hole's length - |its shift - the shift needed| >= half of: screw + (e_max - e_min) + 2 (part + body "
        "+ locator play + tilt); shift needed = -(e_max + e_min)/2 away from the locator";
    const double required = 0.5 * hole.worst.length_mm;
    const double mended = half_length_mm(as_cut(hole)) - required;
    if (!hole.drawn) {
        return not_drawn(std::move(finding), job, hole, mended);
    }
    put_numbers(finding, half_length_mm(hole), required, true, 0.0);
    const double rss = half_length_mm(hole) - 0.5 * hole.rss.length_mm;
    finding.inputs.push_back({"room left by root of the sum of squares", text(rss)});
    finding.inputs.push_back({"drawn", size_text(*hole.drawn) + ", moved rearward by " + text(hole.drawn_shift_mm)});
    finding.why = *finding.margin < 0.0
                      ? "The fastener of " + mount.name + " would come to the end of its hole " +
                            text(-*finding.margin) + " too early" + (rss < 0.0 ? "." : ", in the worst case.")
                      : "On its tighter side the hole of " + mount.name + " has " + text(*finding.margin) +
                            " more than the worst case needs.";
    put_mend(finding, job, hole, mended);
    return finding;
}

Finding width_finding(const Job& job, const Mount& mount, const HolePlan& hole) {
    Finding finding = mount_finding(job, mount, "slot width", "width of its hole");
    put_hole(finding, hole);
    finding.formula = hole.role == HoleRole::clearance
                          ? "width >= screw + 2 · growth across + 2 (part + body + locator play + tilt)"
                          : "width >= the close hole for the screw (ISO 273 fine)";
    finding.source = hole.role == HoleRole::clearance ? finding.source : "ISO 273, fine";
    const double mended = hole.cut.width_mm - hole.worst.width_mm;
    if (!hole.drawn) {
        return not_drawn(std::move(finding), job, hole, mended);
    }
    put_numbers(finding, hole.drawn->width_mm, hole.worst.width_mm, true, 0.0);
    const double rss = hole.drawn->width_mm - hole.rss.width_mm;
    finding.inputs.push_back({"room left by root of the sum of squares", text(rss)});
    finding.why = *finding.margin < 0.0 ? "The hole of " + mount.name + " is " + text(-*finding.margin) +
                                              " too narrow" + (rss < 0.0 ? "." : " for the worst case.")
                                        : "The hole of " + mount.name + " is wide enough.";
    put_mend(finding, job, hole, mended);
    return finding;
}

/// The holes of one piece, and which of them is what.
struct PieceHoles {
    std::size_t piece = 0;
    std::vector<const HolePlan*> all;
    const HolePlan* locator = nullptr;
};

std::vector<PieceHoles> by_piece(const MountPlan& plan) {
    std::vector<PieceHoles> pieces;
    for (const HolePlan& hole : plan.holes) {
        auto place =
            std::find_if(pieces.begin(), pieces.end(), [&](const PieceHoles& one) { return one.piece == hole.piece; });
        if (place == pieces.end()) {
            place = pieces.insert(pieces.end(), PieceHoles{hole.piece, {}, nullptr});
        }
        place->all.push_back(&hole);
        if (hole.role == HoleRole::locator) {
            place->locator = &hole;
        }
    }
    return pieces;
}

/// Round holes of the part that would have to be slots.
std::vector<const HolePlan*> stuck(const PieceHoles& holes) {
    std::vector<const HolePlan*> all;
    for (const HolePlan* const hole : holes.all) {
        if (hole != holes.locator && hole->drawn && is_round(*hole->drawn) && !is_round(hole->worst) &&
            2.0 * half_length_mm(*hole) < hole->worst.length_mm) {
            all.push_back(hole);
        }
    }
    return all;
}

std::string piece_id(const Job& job, const MountPlan& plan, const PieceHoles& holes) {
    const HolePlan* const named = plan.find(plan.locator);
    const bool main = named != nullptr ? named->piece == holes.piece : plan.holes.front().piece == holes.piece;
    return main ? "mounts/locator" : "mounts/" + job.skirt.pieces[holes.piece].name + "/locator";
}

std::vector<std::string> names_of(const std::vector<const HolePlan*>& holes) {
    std::vector<std::string> names;
    for (const HolePlan* const hole : holes) {
        names.push_back(hole->mount);
    }
    return names;
}

void fall_short(Finding& finding, const std::string& why) {
    finding.found = finding.required = finding.margin = std::nullopt;
    finding.state = State::falls_short;
    finding.why = why;
}

Finding blank_locator(const Job& job, const MountPlan& plan, const PieceHoles& holes) {
    Finding finding;
    finding.id = piece_id(job, plan, holes);
    finding.title = "Locator of " + job.skirt.pieces[holes.piece].name;
    finding.stage = Stage::mounts;
    finding.unit = Unit::mm;
    finding.formula =
        "one round hole, and no other where the part must slide; play of the locator = (hole - screw)/2 <= as planned";
    finding.source = "common practice, no source";
    for (std::size_t i = 0; i < std::min(plan.choices.size(), k_choices_told); ++i) {
        const LocatorChoice& choice = plan.choices[i];
        finding.inputs.push_back({"with " + choice.mount + " as the locator",
                                  "longest slot " + text(choice.longest_slot_mm) +
                                      (choice.why_not.empty() ? "" : ", but " + choice.why_not)});
    }
    return finding;
}

/// Without a mend.
Finding locator_state(const Job& job, const MountPlan& plan, const PieceHoles& holes) {
    Finding finding = blank_locator(job, plan, holes);
    if (holes.locator == nullptr) {
        fall_short(finding, "None of the factory holes that are used is round: nothing gives the part its place.");
        return finding;
    }
    const HolePlan& locator = *holes.locator;
    const Mount& mount = *find_mount(job, locator.mount);
    finding.place = mount_finding(job, mount, {}, {}).place;
    finding.place.on_part_mm = locator.landing.p_mm;
    finding.missing = locator.missing;
    finding.missing.insert(finding.missing.end(), plan.lost.begin(), plan.lost.end());
    const auto others = stuck(holes);
    if (!locator.drawn) {
        finding.missing.insert(finding.missing.begin(), "the diameter of " + locator.mount + "'s hole in the part");
        finding.why = locator.mount + " is to be the locator; the part has no hole for it yet.";
        return finding;
    }
    put_numbers(finding, 0.5 * (locator.drawn->width_mm - locator.screw_mm),
                0.5 * (locator.cut.width_mm - locator.screw_mm), false, 0.0);
    finding.why = locator.mount + (plan.locator_proposed ? ", as proposed," : ", as chosen,") +
                  " gives the part its place; its screw has a play of " + text(*finding.found) + " each way" +
                  (*finding.margin < 0.0 ? ", more than the other slots are planned for." : ".");
    if (mount.shape == HoleShape::slot) {
        fall_short(finding, locator.mount + " is a slot in the body: the part is not held lengthwise there.");
    } else if (!is_round(*locator.drawn)) {
        fall_short(finding,
                   "The hole of the locator, " + locator.mount + ", is a slot: nothing gives the part its place.");
    } else if (!others.empty()) {
        fall_short(finding, "Round holes where the part must slide, besides the locator " + locator.mount + ": " +
                                joined_words(names_of(others)) + ".");
    }
    return finding;
}

Finding locator_state(const Job& job, const MountPlan& plan, std::size_t piece) {
    for (const PieceHoles& holes : by_piece(plan)) {
        if (holes.piece == piece) {
            return locator_state(job, plan, holes);
        }
    }
    return {};
}

/// Changes that choose a locator (or use a mount), and all holes of the piece as they are planned then.
std::vector<FieldChange> chosen_anew(const Job& trial, const CarModel& car, std::size_t piece,
                                     std::vector<FieldChange> changes) {
    const MountPlan plan = mount_plan(trial, car);
    for (const HolePlan& hole : plan.holes) {
        if (hole.piece == piece) {
            const auto more = hole_changes(trial, hole);
            changes.insert(changes.end(), more.begin(), more.end());
        }
    }
    return changes;
}

struct LocatorMend {
    std::string words;
    std::vector<FieldChange> changes;
};

/// A round factory hole that is not used yet.
std::optional<LocatorMend> use_round(const Job& job, const CarModel& car, std::size_t piece) {
    for (std::size_t i = 0; i < job.mounts.size(); ++i) {
        if (job.mounts[i].use != MountUse::unused || job.mounts[i].shape != HoleShape::round) {
            continue;
        }
        Job trial = job;
        trial.mounts[i].use = MountUse::flange;
        const MountPlan plan = mount_plan(trial, car);
        const HolePlan* const hole = plan.find(job.mounts[i].name);
        if (hole != nullptr && hole->piece == piece && hole->role == HoleRole::locator) {
            return LocatorMend{
                "Use " + job.mounts[i].name + " for the flange, as its locator, and make the holes as planned.",
                chosen_anew(trial, car, piece, {word_change("/mounts/" + std::to_string(i) + "/use", "flange")})};
        }
    }
    return std::nullopt;
}

std::optional<LocatorMend> locator_mend(const Job& job, const CarModel& car, const PieceHoles& holes) {
    if (holes.locator == nullptr) {
        return use_round(job, car, holes.piece);
    }
    const Mount& mount = *find_mount(job, holes.locator->mount);
    if (mount.shape == HoleShape::slot) {
        Job trial = job;
        trial.fitting.locator.clear();
        return LocatorMend{"Take the locator that is proposed, and make the holes as planned for it.",
                           chosen_anew(trial, car, holes.piece, {word_change("/fitting/locator", "")})};
    }
    LocatorMend mend{"Make ", hole_changes(job, *holes.locator)};
    auto names = names_of(stuck(holes));
    names.insert(names.begin(), holes.locator->mount);
    for (const HolePlan* const hole : stuck(holes)) {
        const auto more = hole_changes(job, *hole);
        mend.changes.insert(mend.changes.end(), more.begin(), more.end());
    }
    mend.words += joined_words(names) + " as planned: " + holes.locator->mount + " " + size_text(holes.locator->cut) +
                  (names.size() > 1 ? ", the others slots." : ".");
    return mend;
}

Finding locator_finding(const Job& job, const CarModel& car, const MountPlan& plan, const PieceHoles& holes) {
    Finding finding = locator_state(job, plan, holes);
    if (finding.state != State::falls_short && (holes.locator == nullptr || holes.locator->drawn)) {
        return finding;
    }
    if (auto mend = locator_mend(job, car, holes)) {
        const auto changed = with_changes(job, mend->changes);
        const auto after =
            changed ? locator_state(changed.value(), mount_plan(changed.value(), car), holes.piece) : Finding{};
        if (after.margin && *after.margin >= 0.0) {
            finding.mend = Mend{std::move(mend->words), {}, after.margin, std::move(mend->changes)};
            return finding;
        }
    }
    finding.mend = Mend{"Use a mount whose factory hole is round.", {}, std::nullopt};
    return finding;
}

}  // namespace

std::vector<Finding> hole_findings(const Job& job, const CarModel& car, const MountPlan& plan) {
    std::vector<Finding> findings;
    for (const HolePlan& hole : plan.holes) {
        const Mount& mount = *find_mount(job, hole.mount);
        findings.push_back(slot_finding(job, mount, hole));
        findings.push_back(width_finding(job, mount, hole));
    }
    for (const PieceHoles& holes : by_piece(plan)) {
        findings.push_back(locator_finding(job, car, plan, holes));
    }
    return findings;
}

std::vector<FieldChange> hole_changes(const Job& job, const HolePlan& hole) {
    const std::string here = mount_pointer(job, hole.mount);
    const auto cleared = [&](const char* field) { return FieldChange{here + field, "null"}; };
    return {length_change(job, here + "/part_hole", millimetres(hole.cut.width_mm)),
            is_round(hole.cut) ? cleared("/part_slot")
                               : length_change(job, here + "/part_slot", millimetres(hole.cut.length_mm)),
            hole.shift_mm == 0.0 ? cleared("/part_shift")
                                 : length_change(job, here + "/part_shift", millimetres(hole.shift_mm))};
}

}  // namespace sillwright::core
