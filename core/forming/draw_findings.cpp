#include "core/forming/draw_findings.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/forming/draft_lean.h"
#include "core/forming/draw.h"
#include "core/forming/mould_faces.h"
#include "core/number_text.h"
#include "core/skirt/flange_findings.h"
#include "core/swing/swing_mend.h"

namespace sillwright::core {

using geometry::Angle;
using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

/// A smaller margin of draft is close: what a mould maker works to.
constexpr double k_close_deg = 0.5;
/// Of a mend's margin.
constexpr double k_slack_deg = 0.05, k_slack_mm = 0.02;
/// A mend begins to lean this far below what is needed: strips that lean along the car need a little more.
constexpr Angle k_below = degrees(1.0);
/// A draw direction is set up to this.
constexpr double k_tilt_step_deg = 0.1;
/// Drafts that are less different are one.
constexpr Angle k_same_draft = geometry::radians(1e-9);
constexpr const char* k_tilt_pointer = "/forming/tilt_deg";

/// The worst strip; a rounding only where it is worse than its strips, not by a rounding error.
const StripDraft* least_of(const DrawPlan& plan) {
    const StripDraft* least = nullptr;
    for (const bool rounding : {false, true}) {
        for (const StripDraft& strip : plan.strips) {
            const Angle less = rounding ? k_same_draft : Angle{};
            if ((strip.from == strip.to) == rounding && (least == nullptr || strip.least < least->least - less)) {
                least = &strip;
            }
        }
    }
    return least;
}

const Undercut* deepest_of(const DrawPlan& plan) {
    const auto deepest =
        std::max_element(plan.undercuts.begin(), plan.undercuts.end(),
                         [](const Undercut& one, const Undercut& other) { return one.depth < other.depth; });
    return deepest == plan.undercuts.end() ? nullptr : &*deepest;
}

double depth_mm(const DrawPlan& plan) {
    const Undercut* deepest = deepest_of(plan);
    return deepest == nullptr ? 0.0 : in_mm(deepest->depth);
}

std::string strip_words(const StripDraft& strip) {
    return strip.from == strip.to ? "round " + strip.from : strip.from + " to " + strip.to;
}

void put_place(Finding& finding, const Job& job, Length along, const Eigen::Vector2d& at_mm) {
    finding.place.along = along;
    finding.place.words = at_place_words(job, along);
    finding.place.on_part_mm = Eigen::Vector3d(in_mm(along), at_mm.x(), at_mm.y());
}

std::string range_words(const std::optional<Angle>& from, const std::optional<Angle>& to) {
    return from && to ? degree_text(*from) + " to " + degree_text(*to) : "none";
}

void add_tilts(Finding& finding, const Job& job, const DrawPlan& plan) {
    const Forming& forming = job.forming;
    finding.inputs.push_back({"tilt used", degree_text(plan.tilt) + (forming.tilt ? ", as decided" : ", the best")});
    finding.inputs.push_back({"best tilt", degree_text(plan.best) + ", with " + degree_text(plan.best_draft)});
    finding.inputs.push_back({"tilts that can be set up", range_words(forming.tilt_from, forming.tilt_to)});
    if (plan.needed) {
        finding.inputs.push_back(
            {"tilts with " + degree_text(*plan.needed) + " everywhere", range_words(plan.from, plan.to)});
    }
}

void add_strips(Finding& finding, const Job& job, const DrawPlan& plan) {
    const StripDraft* least = least_of(plan);
    for (const StripDraft& strip : plan.strips) {
        if (strip.from != strip.to || &strip == least) {
            finding.inputs.push_back(
                {strip_words(strip), degree_text(strip.least) + ", least " + at_place_words(job, strip.along)});
        }
    }
}

std::string before_root(const DrawPlan& plan) {
    for (const StripDraft& strip : plan.strips) {
        if (strip.to == "flange root" && strip.from != strip.to) {
            return strip_words(strip);
        }
    }
    return "the strip before its root";
}

void add_words(Finding& finding, const Piece& piece, const Loft& line, const DrawPlan& plan) {
    if (flange_lies_on(piece, line)) {
        finding.inputs.push_back({"flange", "bent after: formed lying on in the direction of " + before_root(plan)});
    }
    const std::string enough = plan.needed ? degree_text(*plan.needed) : "the draft needed";
    for (const auto& [closed, name] : {std::pair{piece.front_closed, "front"}, std::pair{piece.rear_closed, "rear"}}) {
        if (closed) {
            finding.inputs.push_back({std::string(name) + " end cap",
                                      "stands square to the car: no draft, not counted; form it leaning by " + enough +
                                          ", or bond it in after"});
        }
    }
    finding.inputs.push_back(
        {"looked at", "every station and run-out, and " + std::to_string(k_between) + " sections between each two"});
    if (!piece.flutes.empty() || !piece.recesses.empty()) {
        finding.inputs.push_back({"flutes and recesses", "their walls are not counted here, but with each of them"});
    }
}

Finding base(const Piece& piece, const DrawPlan& plan, const char* id, const std::string& title) {
    Finding finding;
    finding.id = "forming/" + piece.name + "/" + id;
    finding.title = piece.name + ", " + title;
    finding.stage = Stage::forming;
    finding.missing = plan.missing;
    return finding;
}

std::string mould_words(const Forming& forming) {
    if (!forming.mould) {
        return "";
    }
    return *forming.mould == MouldKind::male ? " on the male mould" : " in the female mould";
}

/// The tilt changed, and the margin then.
std::optional<Mend> tilt_mend(const Job& job, const Piece& piece, Angle tilt,
                              const std::function<double(const DrawPlan&)>& margin) {
    Mend mend;
    mend.changes.push_back(number_change(k_tilt_pointer, in_deg(tilt)));
    const auto after = with_changes(job, mend.changes);
    const auto plan = after ? plan_after(after.value(), piece) : std::nullopt;
    if (!plan || margin(*plan) < 0.0) {
        return std::nullopt;
    }
    mend.proven_margin = margin(*plan);
    mend.words = "Tilt the draw direction to " + degree_text(tilt) + ".";
    return mend;
}

/// A tilt as it is set up, if it is as good; else as it is.
std::vector<Angle> tilts_near(Angle best) {
    return {degrees(std::round(in_deg(best) / k_tilt_step_deg) * k_tilt_step_deg), best};
}

std::optional<Mend> better_tilt(const Job& job, const Piece& piece, const DrawPlan& plan,
                                const std::function<double(const DrawPlan&)>& margin) {
    if (!job.forming.tilt) {
        return std::nullopt;  // It is the best already.
    }
    for (const Angle tilt : tilts_near(plan.best)) {
        if (tilt >= job.forming.tilt_from && tilt <= job.forming.tilt_to) {
            if (auto mend = tilt_mend(job, piece, tilt, margin)) {
                return mend;
            }
        }
    }
    return std::nullopt;
}

Mend draft_mend(const Job& job, const Piece& piece, const Loft& line, const DrawPlan& plan) {
    const Angle needed = *plan.needed;
    const auto margin = [needed](const DrawPlan& after) {
        const StripDraft* least = least_of(after);
        return least == nullptr ? -in_deg(needed) : in_deg(least->least) - in_deg(needed);
    };
    if (auto mend = better_tilt(job, piece, plan, margin)) {
        return *std::move(mend);
    }
    if (auto mend = lean_mend(job, piece, line, {needed, needed - k_below, k_slack_deg, margin})) {
        return *std::move(mend);
    }
    const StripDraft& least = *least_of(plan);
    const std::string by = degree_text(needed - least.least);
    if (!lean_tilt(job, piece, line, needed)) {
        return {"No tilt that can be set up leaves the flange enough draft: form it flat and bend it after.", {}, {}};
    }
    return {"Open " + strip_words(least) + " by " + by + "; no move of the nodes was found for it.", {}, {}};
}

Finding draft_finding(const Job& job, const Piece& piece, const Loft& line, const DrawPlan& plan, Mends mends) {
    Finding finding = base(piece, plan, "draft", "draft");
    finding.unit = Unit::deg;
    finding.formula =
        "asin(n · p) >= draft needed; n: the surface's unit normal, its lean along the car too; p: (0, cos tilt, sin "
        "tilt) along, out, up";
    finding.source = job.forming.draft_least
                         ? "draft needed: as decided in the job"
                         : "thermopro.com, Design guidelines: 3 degrees at least on a male mould, 2 in a female one; "
                           "1 degree more for 0.025 mm of texture: from memory";
    add_tilts(finding, job, plan);
    add_strips(finding, job, plan);
    if (job.forming.texture.value > Length{}) {
        finding.inputs.push_back({"texture", mm_text(job.forming.texture.value, 3)});
    }
    add_words(finding, piece, line, plan);
    const StripDraft* least = least_of(plan);
    if (least == nullptr) {
        finding.why = "There is no section that can be looked at.";
        return finding;
    }
    finding.found = in_deg(least->least);
    put_place(finding, job, least->along, least->at_mm);
    if (!plan.needed) {
        finding.why = "The least draft is " + degree_text(least->least) + ", " + strip_words(*least) +
                      "; how much is needed depends on the mould.";
        return finding;
    }
    finding.required = in_deg(*plan.needed);
    finding.margin = *finding.found - *finding.required;
    finding.state = state_of(finding.margin, k_close_deg, finding.missing);
    if (finding.state != State::falls_short) {
        finding.why = "All walls of the section have a draft of " + degree_text(least->least) + " or more.";
        return finding;
    }
    finding.why = least->least < Angle{} ? "The mould holds the part: " + strip_words(*least) + " leans back by " +
                                               degree_text(-least->least) + "."
                                         : "A draft of only " + degree_text(least->least) + mould_words(job.forming) +
                                               ", " + strip_words(*least) + ": the part sticks.";
    if (mends == Mends::look_for) {
        finding.mend = draft_mend(job, piece, line, plan);
    }
    return finding;
}

std::optional<Mend> shape_mend(const Job& job, const Piece& piece, const Loft& line, const DrawPlan& plan) {
    const double most = in_mm(job.forming.undercut_most.value);
    // Where nothing may be held the margin is never above zero; the least draft says how far it is from that.
    const auto of_draft = [](const DrawPlan& after) {
        const StripDraft* least = least_of(after);
        return least == nullptr ? -1.0 : in_deg(least->least);
    };
    const auto of_depth = [most](const DrawPlan& after) { return most - depth_mm(after); };
    const Angle from = std::min(least_of(plan)->least, Angle{}) - k_below;
    return most > 0.0 ? lean_mend(job, piece, line, {Angle{}, from, k_slack_mm, of_depth})
                      : lean_mend(job, piece, line, {Angle{}, from, k_slack_deg, of_draft});
}

Mend undercut_mend(const Job& job, const Piece& piece, const Loft& line, const DrawPlan& plan) {
    const double most = in_mm(job.forming.undercut_most.value);
    const auto margin = [most](const DrawPlan& after) { return most - depth_mm(after); };
    if (auto mend = better_tilt(job, piece, plan, margin)) {
        return *std::move(mend);
    }
    Mend mend = shape_mend(job, piece, line, plan).value_or(Mend{});
    const auto after = with_changes(mended(job, mend.moves), mend.changes);
    const auto then = after ? plan_after(after.value(), piece) : std::nullopt;
    if (mend.can_be_taken() && then && margin(*then) >= 0.0) {
        mend.proven_margin = margin(*then);
        return mend;
    }
    return {"Open the walls that lean back; no move of the nodes was found for it.", {}, {}};
}

Finding undercut_finding(const Job& job, const Piece& piece, const Loft& line, const DrawPlan& plan, Mends mends) {
    Finding finding = base(piece, plan, "undercut", "undercut");
    finding.unit = Unit::mm;
    finding.at_least = false;
    finding.formula =
        "how far the outline comes back, square to the draw direction, on its way down from where it is furthest in "
        "it <= what the part can be sprung over";
    finding.source = "geometry; what a part can be sprung over: common practice, no source";
    add_tilts(finding, job, plan);
    for (const Undercut& one : plan.undercuts) {
        finding.inputs.push_back({one.strip, mm_text(one.depth) + " deep " + at_place_words(job, one.along) +
                                                 ", from " + mm_text(one.from, 1) + " to " + mm_text(one.to, 1) +
                                                 " along"});
    }
    if (flange_lies_on(piece, line)) {
        finding.inputs.push_back({"flange", "bent after: formed lying on in the direction of " + before_root(plan)});
    }
    finding.inputs.push_back(
        {"looked at", "every station and run-out, and " + std::to_string(k_between) + " sections between each two"});
    if (plan.strips.empty()) {
        finding.why = "There is no section that can be looked at.";
        return finding;
    }
    const Undercut* deepest = deepest_of(plan);
    finding.found = depth_mm(plan);
    finding.required = in_mm(job.forming.undercut_most.value);
    if (deepest != nullptr) {
        put_place(finding, job, deepest->along, deepest->at_mm);
    }
    const std::string what = deepest == nullptr ? "" : deepest->strip + ", " + mm_text(deepest->depth);
    if (!plan.needed) {
        finding.why =
            deepest == nullptr ? "The mould holds the part nowhere." : "The mould holds the part by " + what + ".";
        return finding;
    }
    finding.margin = *finding.required - *finding.found;
    finding.state = state_of(finding.margin, close_band_within(in_mm(job.limits.close_band.value), *finding.required),
                             finding.missing);
    if (deepest == nullptr) {
        finding.why = "The mould holds the part nowhere.";
    } else if (finding.state != State::falls_short) {
        finding.why = "The part can be sprung over what the mould holds: " + what + ".";
    } else {
        finding.why = "The mould holds the part, more than it can be sprung over: " + what + ".";
        if (mends == Mends::look_for) {
            finding.mend = undercut_mend(job, piece, line, plan);
        }
    }
    return finding;
}

}  // namespace

std::vector<Finding> draw_findings(const Job& job, const Piece& piece, const Loft& line, const DrawPlan& plan,
                                   Mends mends) {
    return {draft_finding(job, piece, line, plan, mends), undercut_finding(job, piece, line, plan, mends)};
}

}  // namespace sillwright::core
