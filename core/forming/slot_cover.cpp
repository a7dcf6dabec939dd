#include "core/forming/slot_cover.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "core/edit/field_change.h"
#include "core/mounts/mount_finding.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::millimetres;

namespace {

std::string text(double mm) {
    return mm_text(millimetres(mm));
}

SlotCover cover_of(const HolePlan& hole, double ratio, double ratio_sd) {
    SlotCover cover;
    cover.mount = hole.mount;
    cover.piece = hole.piece;
    cover.off_mm = hole.from_locator_mm * (ratio - 1.0);
    cover.off_sd_mm = std::abs(hole.from_locator_mm) * ratio_sd;
    cover.spare_mm = 0.5 * (hole.drawn->length_mm - hole.worst.length_mm) -
                     std::abs(hole.drawn_shift_mm - hole.shift_mm + cover.off_mm);
    return cover;
}

/// Missing in the chain along the part, as it is used and as it was assumed.
std::vector<std::string> missing_of(const Job& job, const std::vector<ChainStep>& chain) {
    std::vector<std::string> missing = chain_size(chain, false).missing;
    for (const std::string& words : chain_size(assumed_chain(job), false).missing) {
        if (std::find(missing.begin(), missing.end(), words) == missing.end()) {
            missing.push_back(words);
        }
    }
    return missing;
}

Finding blank(const Job& job, std::size_t piece) {
    Finding finding;
    finding.id = "forming/" + job.skirt.pieces[piece].name + "/slots";
    finding.title = job.skirt.pieces[piece].name + ", whether its slots cover what the moulds came out at";
    finding.stage = Stage::forming;
    finding.unit = Unit::mm;
    finding.formula =
        "(length drawn - length needed)/2 - |shift drawn - shift needed + off| >= 2 sd; off = x (F / F0 - 1), F the "
        "chain as measured so far, F0 as assumed, by which the buck was sized, x from the locator. Limits of the "
        "model: for holes whose places are marked on the plug or in a mould, along the part only";
    finding.source = "common practice, no source";
    return finding;
}

std::vector<const SlotCover*> of_piece(const std::vector<SlotCover>& covers, std::size_t piece) {
    std::vector<const SlotCover*> some;
    for (const SlotCover& cover : covers) {
        if (cover.piece == piece) {
            some.push_back(&cover);
        }
    }
    return some;
}

bool any_measured(const std::vector<ChainStep>& chain) {
    return std::any_of(chain.begin(), chain.end(), [](const ChainStep& step) { return step.measured_along; });
}

void put_worst(Finding& finding, const MountPlan& plan, const std::vector<ChainStep>& chain, const SlotCover& worst) {
    const HolePlan& hole = *plan.find(worst.mount);
    put_numbers(finding, worst.spare_mm, 2.0 * worst.off_sd_mm, true, 0.0);
    finding.place.along = millimetres(hole.landing.p_mm.x());
    finding.place.on_part_mm = hole.landing.p_mm;
    finding.place.mount = hole.mount;
    finding.unsure_by = {{"mould chain", worst.off_sd_mm}};
    const std::string comes =
        std::abs(worst.off_mm) > 0.0
            ? text(std::abs(worst.off_mm)) + (worst.off_mm < 0.0 ? " too far forward" : " too far to the rear")
            : "where it was planned";
    finding.why = std::string(any_measured(chain) ? "By what was measured so far, t" : "T") + "he part's hole for " +
                  hole.mount + " comes out " + comes + ", give or take " + text(2.0 * worst.off_sd_mm) + ": its slot " +
                  (*finding.margin < 0.0 ? "does not cover that." : "still covers that.");
}

Finding state_of_piece(const Job& job, const std::vector<ChainStep>& chain, const MountPlan& plan, std::size_t piece) {
    Finding finding = blank(job, piece);
    finding.missing = missing_of(job, chain);
    for (const HolePlan& hole : plan.holes) {
        if (hole.piece == piece && !hole.drawn) {
            finding.missing.push_back("the diameter of " + hole.mount + "'s hole in the part");
        }
    }
    const auto covers = slot_covers(job, chain, plan);
    const SlotCover* worst = nullptr;
    for (const SlotCover* const cover : of_piece(covers, piece)) {
        finding.inputs.push_back({cover->mount, "off " + text(cover->off_mm) + ", sd " + text(cover->off_sd_mm) +
                                                    ", spare with that " + text(cover->spare_mm)});
        if (worst == nullptr || cover->margin_mm() < worst->margin_mm()) {
            worst = cover;
        }
    }
    if (worst == nullptr) {
        finding.why = "Whether the slots cover what the moulds come out at cannot be told yet.";
        return finding;
    }
    finding.inputs.insert(
        finding.inputs.begin(),
        {{"part, of what the buck was sized for",
          fixed_text(chain_size(chain, false).ratio / chain_size(assumed_chain(job), false).ratio, 5)}});
    put_worst(finding, plan, chain, *worst);
    return finding;
}

double up_to_step(double mm, double step_mm) {
    /// A length that is a whole step but for rounding is that step.
    constexpr double k_same_step = 1e-9;
    return step_mm > 0.0 ? step_mm * std::ceil(mm / step_mm - k_same_step) : mm;
}

void look_for_mend(Finding& finding, const Job& job, const std::vector<ChainStep>& chain, const MountPlan& plan,
                   std::size_t piece) {
    MountPlan longer = plan;
    std::vector<FieldChange> changes;
    std::vector<std::string> words;
    const auto covers = slot_covers(job, chain, plan);
    for (const SlotCover* const cover : of_piece(covers, piece)) {
        if (cover->margin_mm() >= 0.0) {
            continue;
        }
        const auto hole = std::find_if(longer.holes.begin(), longer.holes.end(),
                                       [&](const HolePlan& one) { return one.mount == cover->mount; });
        const double length =
            up_to_step(hole->drawn->length_mm - 2.0 * cover->margin_mm(), in_mm(job.fitting.cutter_step.value));
        hole->drawn->length_mm = length;
        changes.push_back(length_change(job, mount_pointer(job, cover->mount) + "/part_slot", millimetres(length)));
        words.push_back(cover->mount + " " + text(length));
    }
    const Finding after = state_of_piece(job, chain, longer, piece);
    if (changes.empty() || !after.margin || *after.margin < 0.0) {
        return;
    }
    finding.mend = Mend{"Make the slots longer: " + joined_words(words) +
                            ". Or drill by a template that is made by what was measured, not by the buck.",
                        {},
                        after.margin,
                        std::move(changes)};
}

}  // namespace

std::vector<SlotCover> slot_covers(const Job& job, const std::vector<ChainStep>& chain, const MountPlan& plan) {
    std::vector<SlotCover> covers;
    if (!missing_of(job, chain).empty()) {
        return covers;
    }
    const double sized_by = chain_size(assumed_chain(job), false).ratio;
    const ChainSize used = chain_size(chain, false);
    for (const HolePlan& hole : plan.holes) {
        if (hole.drawn) {
            covers.push_back(cover_of(hole, used.ratio / sized_by, used.sd / sized_by));
        }
    }
    return covers;
}

std::vector<Finding> slot_findings(const Job& job, const std::vector<ChainStep>& chain, const MountPlan& plan,
                                   Mends mends) {
    std::set<std::size_t> pieces;
    for (const HolePlan& hole : plan.holes) {
        pieces.insert(hole.piece);
    }
    std::vector<Finding> findings;
    for (const std::size_t piece : pieces) {
        findings.push_back(state_of_piece(job, chain, plan, piece));
        if (mends == Mends::look_for && findings.back().state == State::falls_short) {
            look_for_mend(findings.back(), job, chain, plan, piece);
        }
    }
    return findings;
}

}  // namespace sillwright::core
