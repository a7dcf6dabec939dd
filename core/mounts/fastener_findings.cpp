#include "core/mounts/fastener_findings.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/finding_state.h"
#include "core/mounts/fastener_choice.h"
#include "core/mounts/mount_finding.h"
#include "core/mounts/mount_piece.h"
#include "core/mounts/stack.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::in_newtons;
using geometry::Length;
using geometry::millimetres;

namespace {

/// One spare in so many: common practice, no source.
constexpr std::size_t k_one_spare_in = 10;

void add(Finding& finding, const std::string& name, const std::optional<Entry>& value, const std::string& lacking) {
    if (value) {
        finding.inputs.push_back({name, mm_text(value->value)});
    } else {
        finding.missing.push_back(lacking);
    }
}

void mend(Finding& finding, const Job& job, const Mount& mount, const Piece* piece, const PieceModel* model,
          FastenerCheck check, const std::string& words) {
    if (finding.state != State::falls_short) {
        return;
    }
    finding.mend = piece != nullptr ? fastener_mend(job, mount, *piece, check, model) : std::nullopt;
    if (!finding.mend) {
        finding.mend = Mend{words, {}, std::nullopt};
    }
}

std::string hole_words(const Mount& mount) {
    return mount.kind == MountKind::hole ? "hole in the body" : mount.kind == MountKind::stud ? "stud" : "nut";
}

}  // namespace

Finding hole_fit_finding(const Job& job, const Mount& mount, const Piece* piece, const PieceModel* model) {
    Finding finding = mount_finding(job, mount, "hole fit", "fastener in the " + hole_words(mount));
    const Fastener& fastener = mount.fastener;
    const std::string size = mount.kind == MountKind::hole ? "the size of " + mount.name + "'s hole in the body"
                                                           : "the thread of " + mount.name;
    add(finding, hole_words(mount), mount.size, size);
    add(finding, "least that the fastener fits", fastener.hole_least,
        "the least hole for " + mount.name + "'s fastener");
    add(finding, "greatest that it fits", fastener.hole_most, "the greatest hole for " + mount.name + "'s fastener");
    finding.formula = "least hole <= hole of the body <= greatest hole that the fastener is made for";
    finding.why = "It is not known which holes the fastener of " + mount.name + " is made for.";
    if (!mount.size) {
        finding.why = "The " + hole_words(mount) + " at " + mount.name + " is not measured.";
        return finding;
    }
    const double found = in_mm(mount.size->value);
    const auto& least = fastener.hole_least;
    const auto& most = fastener.hole_most;
    if (!least && !most) {
        return finding;
    }
    const bool low = !most || (least && found - in_mm(least->value) < in_mm(most->value) - found);
    put_numbers(finding, found, in_mm(low ? least->value : most->value), low, 0.0);
    finding.why = "The " + hole_words(mount) + " at " + mount.name + ", " + mm_text(mount.size->value) + ", is " +
                  (*finding.margin >= 0.0 ? "one that its fastener is made for."
                   : low                  ? "too small for its fastener."
                                          : "too large for its fastener.");
    mend(finding, job, mount, piece, model, FastenerCheck::hole_fit,
         "Take a fastener for " + mm_text(mount.size->value) + ".");
    return finding;
}

Finding free_depth_finding(const Job& job, const Mount& mount, const Piece* piece, const PieceModel* model) {
    Finding finding = mount_finding(job, mount, "free depth", "room behind the panel");
    const Fastener& fastener = mount.fastener;
    add(finding, "free behind the panel", mount.free_depth, "the free depth behind the panel at " + mount.name);
    add(finding, "the fastener goes in", fastener.tail,
        "how far " + mount.name + "'s fastener goes in behind the panel");
    finding.inputs.push_back({"room behind its tail", mm_text(job.limits.tail_room.value)});
    finding.formula = "free depth >= tail + room asked for (+ 2 sd of the stack for a screw)";
    finding.why = "It is not known whether there is room behind the panel at " + mount.name + ".";
    if (!mount.free_depth || !fastener.tail) {
        return finding;
    }
    Length needed = fastener.tail->value + job.limits.tail_room.value;
    if (fastener.kind != FastenerKind::clip && piece != nullptr) {
        const Length half = stack_of(job, mount, *piece, model).half_width;
        needed = needed + half;
        finding.inputs.push_back({"the stack may be thinner by", mm_text(half)});
    }
    put_numbers(finding, in_mm(mount.free_depth->value), in_mm(needed), true,
                close_band_within(in_mm(job.limits.close_band.value), in_mm(mount.free_depth->value)));
    finding.why = *finding.margin < 0.0
                      ? "The fastener of " + mount.name + " would come within " +
                            mm_text(std::max(Length{}, mount.free_depth->value - fastener.tail->value)) +
                            " of what is behind the panel."
                      : "There is room behind the panel at " + mount.name + ".";
    const Length most = mount.free_depth->value - (needed - fastener.tail->value);
    mend(finding, job, mount, piece, model, FastenerCheck::free_depth,
         most > Length{} ? "Take a fastener that goes in no further than " + mm_text(most) + "."
                         : "Nothing can go in here: leave this mount unused.");
    return finding;
}

std::vector<FastenerCount> fastener_counts(const Job& job) {
    std::map<std::string, FastenerCount> kinds;
    for (const Mount& mount : job.mounts) {
        const Fastener& fastener = mount.fastener;
        if (mount.use != MountUse::flange || fastener.name.empty()) {
            continue;
        }
        FastenerCount& kind = kinds[fastener.name];
        kind.name = fastener.name;
        ++kind.used;
        kind.spares = (kind.used + k_one_spare_in - 1) / k_one_spare_in;
        kind.holds_n += fastener.holds ? in_newtons(*fastener.holds) : 0.0;
    }
    std::vector<FastenerCount> counts;
    for (const auto& [name, kind] : kinds) {
        counts.push_back(kind);
    }
    return counts;
}

Finding fastener_list_finding(const Job& job) {
    Finding finding;
    finding.id = "mounts/fasteners";
    finding.title = "Fasteners to buy";
    finding.stage = Stage::mounts;
    finding.unit = Unit::none;
    finding.formula = "a count, with one spare in ten and at least one of each";
    finding.source = "common practice, no source";
    double all_n = 0.0;
    for (const Mount& mount : job.mounts) {
        if (mount.use == MountUse::flange && mount.fastener.name.empty()) {
            finding.missing.push_back("which fastener " + mount.name + " takes");
        } else if (mount.use == MountUse::flange && !mount.fastener.holds) {
            finding.missing.push_back("what " + mount.name + "'s fastener holds");
        }
    }
    std::vector<std::string> words;
    for (const FastenerCount& kind : fastener_counts(job)) {
        all_n += kind.holds_n;
        words.push_back(std::to_string(kind.used) + " of " + kind.name + " and " + std::to_string(kind.spares) +
                        (kind.spares == 1 ? " spare" : " spares"));
        finding.inputs.push_back({kind.name, std::to_string(kind.used) + " + " + std::to_string(kind.spares)});
    }
    finding.inputs.push_back({"they hold together, as far as is known", fixed_text(all_n, 0) + " N"});
    finding.why = words.empty() ? "It is not said which fasteners are taken." : "Buy " + joined_words(words) + ".";
    finding.state = finding.missing.empty() ? State::holds : State::not_measured;
    return finding;
}

std::vector<Finding> fastener_findings(const Job& job, const CarModel& car) {
    std::vector<Finding> findings;
    for (const Mount& mount : job.mounts) {
        if (mount.use != MountUse::flange) {
            continue;
        }
        const auto on = mount_piece(job, car, mount);
        const Piece* const piece = on ? &job.skirt.pieces[on->piece] : nullptr;
        const PieceModel* const model = on ? &car.pieces[on->piece] : nullptr;
        findings.push_back(hole_fit_finding(job, mount, piece, model));
        if (mount.kind != MountKind::stud) {
            findings.push_back(free_depth_finding(job, mount, piece, model));
        }
    }
    if (!findings.empty()) {
        findings.push_back(fastener_list_finding(job));
    }
    return findings;
}

}  // namespace sillwright::core
