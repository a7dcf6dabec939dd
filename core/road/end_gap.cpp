#include "core/road/end_gap.h"

#include <algorithm>
#include <cmath>

#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/material.h"
#include "core/mounts/growth.h"
#include "core/mounts/mount_finding.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_celsius;
using geometry::in_mm;
using geometry::millimetres;

namespace {

const std::optional<Entry>& gap_as_drawn(const Job& job, PartEnd end) {
    return end == PartEnd::front ? job.fitting.front_gap : job.fitting.rear_gap;
}

std::string name_of(PartEnd end) {
    return end == PartEnd::front ? "front" : "rear";
}

/// From the locator of the outermost piece to its outer end; no value without one.
std::optional<double> length_mm(const Job& job, const CarModel& car, const MountPlan& plan, PartEnd end) {
    std::optional<double> outermost;
    std::optional<double> length;
    for (const HolePlan& hole : plan.holes) {
        const auto& line = car.pieces[hole.piece].line;
        if (hole.role != HoleRole::locator || !line || job.skirt.pieces[hole.piece].carried_by != "body") {
            continue;
        }
        const double at = in_mm(end == PartEnd::front ? line->front() : line->rear());
        const double out = end == PartEnd::front ? -at : at;
        if (!outermost || out > *outermost) {
            outermost = out;
            length = std::abs(at - hole.landing.p_mm.x());
        }
    }
    return length;
}

Finding judged(const Job& job, const EndGap& gap, PartEnd end, bool hot, const std::vector<std::string>& missing) {
    const double found = hot ? gap.least_mm : gap.greatest_mm;
    const double required = in_mm((hot ? job.road.end_gap_least : job.road.end_gap_most).value);
    Finding finding;
    finding.stage = Stage::mounts;
    finding.id = "mounts/" + name_of(end) + " end gap/" + (hot ? "hot" : "cold");
    finding.title = name_of(end) + " end gap, " + (hot ? "hottest" : "coldest");
    finding.missing = missing;
    put_numbers(finding, found, required, hot, in_mm(job.limits.close_band.value));
    finding.why = "From the locator to the " + name_of(end) + " end are " + mm_text(millimetres(gap.length_mm), 0) +
                  "; the gap, " + mm_text(gap_as_drawn(job, end)->value) + " as drawn, " +
                  (hot ? "closes to " : "opens to ") + mm_text(millimetres(found)) + ".";
    for (const EndGap::At& state : gap.states) {
        finding.inputs.push_back({"gap " + state.state, mm_text(millimetres(state.mm))});
    }
    return finding;
}

/// The gap to draw so that it is neither too small hot nor too large cold; none if it cannot be both.
std::optional<double> better_gap_mm(const Job& job, const EndGap& gap, double drawn_mm) {
    const double closes = drawn_mm - gap.least_mm;
    const double opens = gap.greatest_mm - drawn_mm;
    const double least = in_mm(job.road.end_gap_least.value) + closes;
    const double most = in_mm(job.road.end_gap_most.value) - opens;
    return least <= most ? std::optional(std::clamp(drawn_mm, least, most)) : std::nullopt;
}

Mend mend(const Job& job, const CarModel& car, const MountPlan& plan, const EndGap& gap, PartEnd end, bool hot) {
    const double drawn = in_mm(gap_as_drawn(job, end)->value);
    const auto better = better_gap_mm(job, gap, drawn);
    if (!better) {
        return {"No gap is right hot and cold: choose a locator nearer to this end, or allow the gap more.", {}, {}};
    }
    Mend found;
    found.words = "Draw the " + name_of(end) + " end " + mm_text(millimetres(std::abs(*better - drawn))) +
                  (*better > drawn ? " shorter" : " longer") + ", so that the gap as drawn is " +
                  mm_text(millimetres(*better)) + ", and write that gap under Fitting.";
    found.changes = {length_change(job, "/fitting/" + name_of(end) + "_gap", millimetres(*better))};
    if (const auto changed = with_changes(job, found.changes)) {
        const auto again = end_gap(changed.value(), car, plan, end);
        found.proven_margin = judged(changed.value(), *again, end, hot, {}).margin;
    }
    return found;
}

}  // namespace

std::optional<EndGap> end_gap(const Job& job, const CarModel& car, const MountPlan& plan, PartEnd end) {
    const auto& drawn = gap_as_drawn(job, end);
    const auto length = length_mm(job, car, plan, end);
    if (!drawn || !length) {
        return std::nullopt;
    }
    const Growth grown = growth(growth_rates(job), *length);
    EndGap gap;
    gap.length_mm = *length;
    for (const Growth::At& at : grown.states) {
        gap.states.push_back({at.state, in_mm(drawn->value) - at.mm});
    }
    gap.least_mm = in_mm(drawn->value) - grown.greatest_mm;
    gap.greatest_mm = in_mm(drawn->value) - grown.least_mm;
    return gap;
}

std::vector<GapAtTemperature> end_gap_table(const Job& job, const CarModel& car, const MountPlan& plan, PartEnd end,
                                            const std::vector<geometry::Temperature>& temperatures) {
    const auto gap = end_gap(job, car, plan, end);
    const auto part = numbers_of(job.skirt.material).expansion_per_k;
    const MaterialNumbers* const body = find_material(job.fitting.body_material);
    if (!gap || !part || body == nullptr || !body->expansion_per_k) {
        return {};
    }
    std::vector<GapAtTemperature> table;
    for (const geometry::Temperature at : temperatures) {
        const double warmer = in_celsius(at) - in_celsius(job.fitting.drawn);
        const double grown = (*part - *body->expansion_per_k) * warmer * gap->length_mm;
        table.push_back({at, in_mm(gap_as_drawn(job, end)->value) - grown});
    }
    return table;
}

std::vector<Finding> end_gap_findings(const Job& job, const CarModel& car, const MountPlan& plan) {
    std::vector<Finding> all;
    const std::vector<std::string> warmth = growth_rates(job).missing;
    for (const PartEnd end : {PartEnd::front, PartEnd::rear}) {
        const auto gap = end_gap(job, car, plan, end);
        for (const bool hot : {true, false}) {
            Finding finding;
            if (gap) {
                finding = judged(job, *gap, end, hot, warmth);
                if (finding.state == State::falls_short) {
                    finding.mend = mend(job, car, plan, *gap, end, hot);
                }
            } else {
                finding.stage = Stage::mounts;
                finding.id = "mounts/" + name_of(end) + " end gap/" + (hot ? "hot" : "cold");
                finding.title = name_of(end) + " end gap, " + (hot ? "hottest" : "coldest");
                finding.missing = {gap_as_drawn(job, end) ? "a drawn piece with a round hole as its locator"
                                                          : "the gap at the " + name_of(end) + " end, as drawn"};
                finding.why = "Nothing can be said of the gap yet.";
            }
            finding.formula =
                "gap as drawn - length from the locator · (expansion of the part · its warming - the same "
                "of the body)";
            finding.source = "linear expansion; limits: common practice, no source";
            all.push_back(std::move(finding));
        }
    }
    return all;
}

}  // namespace sillwright::core
