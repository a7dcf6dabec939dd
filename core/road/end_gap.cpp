#include "core/road/end_gap.h"

#include <algorithm>
#include <cmath>

#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/mounts/growth.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_celsius;
using geometry::in_mm;
using geometry::millimetres;

namespace {

/// A gap is drawn in tenths of a millimetre.
constexpr double k_gap_step_mm = 0.1;
/// A whole step is told from the next by this part of one.
constexpr double k_step_rounding = 1e-6;

std::string end_words(PartEnd end) {
    return end == PartEnd::front ? "front" : "rear";
}

const std::optional<Entry>& drawn_gap(const Job& job, PartEnd end) {
    return end == PartEnd::front ? job.fitting.front_gap : job.fitting.rear_gap;
}

double end_along_mm(const geometry::Loft& line, PartEnd end) {
    return in_mm(end == PartEnd::front ? line.front() : line.rear());
}

/// The piece that has the end: the foremost or the rearmost that is drawn.
std::optional<std::size_t> end_piece(const CarModel& car, PartEnd end) {
    std::optional<std::size_t> found;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (!car.pieces[i].line) {
            continue;
        }
        const double here = end_along_mm(*car.pieces[i].line, end);
        const double best = found ? end_along_mm(*car.pieces[*found].line, end) : 0.0;
        if (!found || (end == PartEnd::front ? here < best : here > best)) {
            found = i;
        }
    }
    return found;
}

const HolePlan* locator_of(const MountPlan& plan, std::size_t piece) {
    const auto found = std::find_if(plan.holes.begin(), plan.holes.end(), [&](const HolePlan& hole) {
        return hole.piece == piece && hole.role == HoleRole::locator;
    });
    return found == plan.holes.end() ? nullptr : &*found;
}

/// One of an end's two findings.
struct Asked {
    PartEnd end = PartEnd::front;
    bool at_least = true;
};

double required_mm(const Job& job, const Asked& asked) {
    return in_mm((asked.at_least ? job.road.end_gap_least : job.road.end_gap_most).value);
}

/// The state that asks most; none if no gap is known.
const EndGap* worst_of(const EndGaps& gaps, bool at_least) {
    const auto less = [](const EndGap& a, const EndGap& b) { return a.gap_mm < b.gap_mm; };
    const auto found = at_least ? std::min_element(gaps.gaps.begin(), gaps.gaps.end(), less)
                                : std::max_element(gaps.gaps.begin(), gaps.gaps.end(), less);
    return found == gaps.gaps.end() ? nullptr : &*found;
}

double margin_mm(const Job& job, const Asked& asked, const EndGap& worst) {
    const double over = worst.gap_mm - required_mm(job, asked);
    return asked.at_least ? over : -over;
}

std::optional<Mend> mend_of(const Job& job, const CarModel& car, const MountPlan& plan, const Asked& asked,
                            double margin) {
    const double drawn = in_mm(drawn_gap(job, asked.end)->value);
    const double exact = (asked.at_least ? drawn - margin : drawn + margin) / k_gap_step_mm;
    const double gap =
        k_gap_step_mm * (asked.at_least ? std::ceil(exact - k_step_rounding) : std::floor(exact + k_step_rounding));
    const std::string end = end_words(asked.end);
    if (gap < 0.0) {
        return Mend{"No gap as drawn is small enough: put the locator nearer to the " + end + " end.", {}, {}};
    }
    const FieldChange change = length_change(job, "/fitting/" + end + "_gap", millimetres(gap));
    const auto changed = with_changes(job, {change});
    if (!changed) {
        return std::nullopt;
    }
    const EndGaps gaps = end_gaps(changed.value(), car, plan, asked.end);
    const EndGap* const worst = worst_of(gaps, asked.at_least);
    const Asked other{asked.end, !asked.at_least};
    const EndGap* const other_worst = worst_of(gaps, other.at_least);
    Mend mend;
    mend.words = (asked.at_least ? "Pull the " : "Bring the ") + end + " end " + (asked.at_least ? "back" : "out") +
                 " by " + mm_text(millimetres(std::abs(gap - drawn)), 1) + ", to a gap of " +
                 mm_text(millimetres(gap), 1) + " as drawn.";
    if (other_worst != nullptr && margin_mm(changed.value(), other, *other_worst) < 0.0) {
        mend.words += asked.at_least ? " Cold it is then wider than asked: put the locator nearer to this end too."
                                     : " Hot it is then narrower than asked: put the locator nearer to this end too.";
    }
    mend.changes = {change};
    mend.proven_margin = margin_mm(changed.value(), asked, *worst);
    return mend;
}

Finding finding_of(const Job& job, const CarModel& car, const MountPlan& plan, const Asked& asked) {
    const std::string end = end_words(asked.end);
    const EndGaps gaps = end_gaps(job, car, plan, asked.end);
    Finding finding;
    finding.id = "mounts/" + end + " end gap" + (asked.at_least ? "" : " widest");
    finding.title = (asked.end == PartEnd::front ? "Front" : "Rear") + std::string(" end gap, ") +
                    (asked.at_least ? "narrowest" : "widest");
    finding.stage = Stage::mounts;
    finding.unit = Unit::mm;
    finding.at_least = asked.at_least;
    finding.required = required_mm(job, asked);
    finding.formula =
        "gap = gap as drawn - growth of the part over the body, from the locator to the end; in every state";
    finding.source = "linear expansion; the limit is common practice, no source";
    finding.missing = gaps.missing;
    finding.place.words = "at the " + end + " end";
    if (!gaps.piece.empty()) {
        finding.place.along = millimetres(end_along_mm(*car.pieces[gaps.piece_index].line, asked.end));
        finding.inputs.push_back({"locator to end", mm_text(millimetres(gaps.from_locator_mm), 1)});
    }
    for (const EndGap& gap : gaps.gaps) {
        finding.inputs.push_back({"gap " + gap.state, mm_text(millimetres(gap.gap_mm))});
    }
    if (const EndGap* const worst = worst_of(gaps, asked.at_least)) {
        finding.found = worst->gap_mm;
        finding.margin = margin_mm(job, asked, *worst);
        finding.why = "The " + end + " end gap is " + (asked.at_least ? "narrowest " : "widest ") + worst->state +
                      ": " + mm_text(millimetres(worst->gap_mm), 1) + ".";
    } else {
        finding.why = "The " + end + " end gap is not known.";
    }
    const double widest = 0.5 * in_mm(job.road.end_gap_most.value - job.road.end_gap_least.value);
    finding.state = state_of(
        finding.margin, close_band_within(in_mm(job.limits.close_band.value), std::max(widest, 0.0)), finding.missing);
    if (finding.state == State::falls_short) {
        finding.mend = mend_of(job, car, plan, asked, *finding.margin);
    }
    return finding;
}

std::optional<double> gap_in(const EndGaps& gaps, const std::string& state) {
    const auto found =
        std::find_if(gaps.gaps.begin(), gaps.gaps.end(), [&](const EndGap& gap) { return gap.state == state; });
    return found == gaps.gaps.end() ? std::nullopt : std::optional{found->gap_mm};
}

}  // namespace

EndGaps end_gaps(const Job& job, const CarModel& car, const MountPlan& plan, PartEnd end) {
    EndGaps found;
    const auto& drawn = drawn_gap(job, end);
    if (!drawn) {
        found.missing.push_back("the gap at the " + end_words(end) + " end as drawn");
    }
    const auto piece = end_piece(car, end);
    const HolePlan* const locator = piece ? locator_of(plan, *piece) : nullptr;
    if (!piece) {
        found.missing.emplace_back("the skirt's sections");
    } else if (locator == nullptr) {
        found.missing.push_back("a locator of " + car.pieces[*piece].name);
    }
    const GrowthRates rates = growth_rates(job);
    found.missing.insert(found.missing.end(), rates.missing.begin(), rates.missing.end());
    if (piece) {
        found.piece = car.pieces[*piece].name;
        found.piece_index = *piece;
    }
    if (piece && locator != nullptr) {
        const double rearward = end_along_mm(*car.pieces[*piece].line, end) - locator->landing.p_mm.x();
        found.from_locator_mm = end == PartEnd::front ? -rearward : rearward;
    }
    if (!drawn) {
        return found;
    }
    for (const GrowthRate& rate : rates.states) {
        // As drawn nothing has grown: that is known without a locator.
        if (locator != nullptr || rate.per_mm == 0.0) {
            found.gaps.push_back({rate.state, in_mm(drawn->value) - rate.per_mm * found.from_locator_mm});
        }
    }
    return found;
}

std::vector<Finding> end_gap_findings(const Job& job, const CarModel& car, const MountPlan& plan) {
    std::vector<Finding> findings;
    for (const PartEnd end : {PartEnd::front, PartEnd::rear}) {
        for (const bool at_least : {true, false}) {
            findings.push_back(finding_of(job, car, plan, {end, at_least}));
        }
    }
    return findings;
}

std::vector<FittingGap> fitting_gaps(const Job& job, const CarModel& car, const MountPlan& plan) {
    std::vector<FittingGap> table;
    const double first = in_celsius(k_coldest_fitting);
    const double step = in_celsius(k_fitting_step);
    const auto rows = static_cast<int>(std::lround((in_celsius(k_hottest_fitting) - first) / step));
    for (int i = 0; i <= rows; ++i) {
        const auto at = geometry::celsius(first + i * step);
        Job there = job;
        there.fitting.fitted = Warmth{at, at, {}};
        table.push_back({at, gap_in(end_gaps(there, car, plan, PartEnd::front), "as fitted"),
                         gap_in(end_gaps(there, car, plan, PartEnd::rear), "as fitted")});
    }
    return table;
}

}  // namespace sillwright::core
