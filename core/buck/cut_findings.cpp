#include "core/buck/cut_findings.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>
#include <utility>

#include "core/buck/part_tabs.h"
#include "core/buck/part_words.h"
#include "core/buck/slotted.h"
#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/forming/bit_table.h"
#include "core/number_text.h"
#include "geometry/tool_path.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// A rib is cut to a tenth of a millimetre; what stands more than that is felt under the skin. Common practice.
constexpr double k_uncut_most_mm = 0.1;
/// What is less is not looked at.
constexpr Length k_uncut_tolerance = millimetres(0.01);
/// Places that are listed one by one.
constexpr std::size_t k_most_listed = 8;
/// A margin nearer to zero than this is zero: rounding.
constexpr double k_rounding = 1e-9;
/// Tabs are not made narrower than this: they break. Common practice, no source.
constexpr double k_narrowest_tab_mm = 2.0;
constexpr double k_tab_step_mm = 0.5;
constexpr const char* k_practice = "common practice, no source";

/// A bit that leaves a square edge right through a board.
bool is_square(const Bit& bit) {
    const auto form = form_of(bit);
    return form && form->shape == geometry::BitShape::flat && !(form->corner_radius > Length{});
}

class CutJudge {
public:
    CutJudge(const Job& job, const PieceBuck& buck, const std::vector<CutPart>& all)
        : job_{job}, buck_{buck}, all_{all} {
        std::copy_if(all.begin(), all.end(), std::back_inserter(parts_),
                     [&](const CutPart& part) { return part.piece == buck.piece; });
    }

    [[nodiscard]] Finding bit() const {
        Finding finding = started("bit", "bit that cuts out");
        finding.formula =
            "reach − thickness of the thickest board ≥ 0; width of the narrowest slot − diameter ≥ 0; square at its "
            "end: "
            "radius of its corners ≤ 0. The least of the three";
        finding.source = "plane geometry";
        const auto bit = job_.buck.bit.empty() ? std::nullopt : find_bit(job_.forming.router, job_.buck.bit);
        if (!bit) {
            finding.missing.push_back(job_.buck.bit.empty()
                                          ? "the bit that cuts out"
                                          : "bit \"" + job_.buck.bit +
                                                "\": it is neither in the job's list nor in the table");
            finding.why = "With which bit the parts are cut out is not known yet: corners have no relief.";
            return finding;
        }
        finding.inputs.push_back({"bit", bit->name});
        const auto form = form_of(*bit);
        if (!form) {
            finding.missing.push_back("diameter and form of bit \"" + bit->name + "\"");
            finding.why = "The bit's size is not known: corners have no relief.";
            return finding;
        }
        finding.inputs.push_back({"diameter", mm_text(form->diameter)});
        if (!is_square(*bit)) {
            const Length round = form->shape == geometry::BitShape::vee ? 0.5 * form->diameter : bottom_radius(*form);
            judge(finding, in_mm(round), 0.0, false, 0.0);
            finding.why = "The bit is not square at its end: it leaves a slope or a hollow at the far face.";
            return finding;
        }
        const CutPart* const thick = &*std::ranges::max_element(parts_, {}, &CutPart::thickness_mm);
        const Slot* slot = nullptr;
        std::string slot_of;
        const auto look = [&](const std::string& label, const std::vector<Slot>& slots) {
            for (const Slot& one : slots) {
                if (slot == nullptr || one.width_mm < slot->width_mm) {
                    slot = &one;
                    slot_of = label;
                }
            }
        };
        std::ranges::for_each(buck_.ribs, [&](const Rib& rib) { look(rib.label, rib.laps); });
        std::ranges::for_each(buck_.spines, [&](const Spine& spine) { look(spine.label, spine.laps); });
        if (slot != nullptr) {
            finding.inputs.push_back({"narrowest slot, in " + slot_of, mm_text(millimetres(slot->width_mm))});
            judge(finding, slot->width_mm, in_mm(form->diameter), true, band(in_mm(form->diameter)));
            finding.why = *finding.margin < 0.0
                              ? "The bit is wider than the slot at " + number_text(slot->at_mm) + " in " + slot_of + "."
                              : "The bit goes into every slot and through every board.";
        }
        if (!parts_.empty() && bit->reach) {
            finding.inputs.push_back({"reach", mm_text(bit->reach->value)});
            finding.inputs.push_back({"thickest board, of " + thick->label, mm_text(millimetres(thick->thickness_mm))});
            const double margin = in_mm(bit->reach->value) - thick->thickness_mm;
            if (!finding.margin || margin < *finding.margin) {
                judge(finding, in_mm(bit->reach->value), thick->thickness_mm, true, band(thick->thickness_mm));
                finding.why = margin < 0.0 ? "The bit does not reach through the board of " + thick->label + "."
                                           : "The bit goes into every slot and through every board.";
            }
        } else if (!bit->reach) {
            finding.missing.push_back("how deep bit \"" + bit->name + "\" reaches");
            finding.state = state_of(finding.margin, 0.0, finding.missing);
            finding.why += (finding.why.empty() ? "" : " ") + std::string("How deep the bit reaches is not known.");
        }
        return finding;
    }

    [[nodiscard]] Finding reach() const {
        Finding finding = started("reach", "what the bit cannot reach");
        finding.formula =
            "outline rolled out by the bit's radius and back; what is left = distance from the outline to the way of "
            "the "
            "bit's middle − radius; a sharp inside corner keeps (√2 − 1) radius. No more than 0.1 mm";
        finding.source = "plane geometry; the limit: common practice, no source";
        const auto diameter = cutting_diameter(job_);
        if (!diameter) {
            finding.missing.push_back("the bit that cuts out, with its diameter");
            finding.why = "What the bit leaves is not known before the bit is.";
            return finding;
        }
        double worst = 0.0;
        std::size_t places = 0;
        for (const CutPart& part : parts_) {
            const auto path =
                geometry::tool_path(part.outline, 0.5 * *diameter, geometry::CutSide::outside, k_uncut_tolerance);
            if (!path) {
                finding.missing.push_back("the way of the bit round " + part.label);
                finding.why = part.label + ": " + path.error().message;
                continue;
            }
            for (const geometry::UncutPlace& place : path.value().uncut) {
                if (in_mm(place.depth) <= k_uncut_most_mm && in_mm(place.depth) <= worst) {
                    continue;
                }
                if (in_mm(place.depth) > k_uncut_most_mm && ++places <= k_most_listed) {
                    finding.inputs.push_back(
                        {"left in " + part.label + words_at(part, place.at_mm), mm_text(place.depth)});
                }
                if (in_mm(place.depth) > worst) {
                    worst = in_mm(place.depth);
                    put_at(finding, part, place.at_mm);
                }
            }
            if (!part.unrelieved.empty()) {
                finding.inputs.push_back({part.label + " has no relief in its corners", part.unrelieved});
            }
        }
        finding.inputs.push_back({"bit", job_.buck.bit + ", " + mm_text(*diameter)});
        finding.inputs.push_back({"places where more than 0.1 mm is left", std::to_string(places)});
        judge(finding, worst, k_uncut_most_mm, false, 0.0);
        if (finding.why.empty()) {
            finding.why = places > 0 ? "The bit is too wide for " + std::string(places == 1 ? "a hollow" : "hollows") +
                                           " of the outlines: wood is left there, to be cut by hand."
                                     : "The bit gets to all of every outline.";
        }
        return finding;
    }

    [[nodiscard]] Finding words() const {
        Finding finding = started("words", "words engraved on the parts");
        finding.unit = Unit::none;
        finding.formula = "parts that carry their label, FRONT, OUT and UP, and ribs their level line, in letters of " +
                          mm_text(k_least_letters, 0) + " or more, " + mm_text(k_engraving_room, 0) +
                          " off edges, slots and holes; a letter is taken as wide as it is high. All parts must";
        finding.source = k_practice;
        std::size_t whole = 0;
        const CutPart* first = nullptr;
        for (const CutPart& part : parts_) {
            const bool lacks = std::ranges::any_of(part.left_out, [&](const std::string& words) {
                return words == part.label || words == "FRONT" || words == "OUT" || words == "UP" ||
                       words == "the level line";
            });
            whole += lacks ? 0 : 1;
            first = lacks && first == nullptr ? &part : first;
            std::string left;
            for (const std::string& one : part.left_out) {
                left += (left.empty() ? "" : "; ") + one;
            }
            if (!left.empty()) {
                finding.inputs.push_back({"no room on " + part.label, left});
            }
        }
        judge(finding, static_cast<double>(whole), static_cast<double>(parts_.size()), true, 0.0);
        if (first != nullptr) {
            put_at(finding, *first, start_point(first->outline.segments.front()));
            finding.why = first->label + " has no room for all of its label and marks.";
            finding.mend =
                Mend{"Write on " + first->label + " by hand what has no room, before it leaves the sheet.", {}, {}, {}};
        } else {
            finding.why = finding.inputs.empty() ? "Every part carries all of its words."
                                                 : "Every part carries its label and marks; some lack other words.";
        }
        return finding;
    }

    [[nodiscard]] Finding tabs() const {
        Finding finding = started("tabs", "tabs that hold the parts");
        finding.formula =
            "tabs of a part ≥ 3; widest gap from tab to tab round an outline ≤ pitch; a tab's height ≤ thickness of "
            "the "
            "board. A tab stands where the outline turns by no more than 10° under it and the bit beside it";
        finding.source = k_practice;
        finding.inputs = {{"width of a tab", mm_text(job_.buck.tab_width.value)},
                          {"height of a tab", mm_text(job_.buck.tab_height.value)},
                          {"greatest pitch", mm_text(job_.buck.tab_pitch.value)}};
        if (Finding count = tab_count(finding); count.state == State::falls_short) {
            return count;
        }
        const CutPart* const thin = &*std::ranges::min_element(parts_, {}, &CutPart::thickness_mm);
        const CutPart* const wide = &*std::ranges::max_element(parts_, {}, [](const CutPart& part) {
            return in_mm(widest_gap(part.outline, part.tabs).value_or(Length{}));
        });
        const double height = in_mm(job_.buck.tab_height.value);
        if (height > thin->thickness_mm) {
            judge(finding, height, thin->thickness_mm, false, 0.0);
            finding.why = "A tab is higher than the board of " + thin->label + " is thick: it would not be cut at all.";
            return finding;
        }
        judge(finding, in_mm(*widest_gap(wide->outline, wide->tabs)), in_mm(job_.buck.tab_pitch.value), false, 0.0);
        put_at(finding, *wide, wide->tabs.front().at_mm);
        finding.why = *finding.margin < 0.0 ? wide->label + " has a stretch without room for a tab."
                                            : "Every part is held all round.";
        return finding;
    }

    /// How many tabs the part has that has fewest.
    [[nodiscard]] Finding tab_count(Finding finding) const {
        const CutPart& few =
            *std::ranges::min_element(parts_, {}, [](const CutPart& part) { return part.tabs.size(); });
        finding.unit = Unit::none;
        judge(finding, static_cast<double>(few.tabs.size()), static_cast<double>(k_least_tabs), true, 0.0);
        put_at(finding, few, start_point(few.outline.segments.front()));
        finding.why = few.label + " has room for " + std::to_string(few.tabs.size()) +
                      " tabs on its straight edges: it may come loose while it is cut.";
        return finding;
    }
    [[nodiscard]] Finding tab_count() const { return tab_count(started("tabs", "tabs that hold the parts")); }

    [[nodiscard]] Finding labels() const {
        Finding finding = started("labels", "labels of the parts");
        finding.unit = Unit::none;
        finding.formula = "different labels among all parts of the buck = parts";
        finding.source = k_practice;
        std::map<std::string, int> count;
        for (const CutPart& part : all_) {
            ++count[part.label];
        }
        count.erase("");
        const auto twice = std::ranges::find_if(count, [](const auto& one) { return one.second > 1; });
        judge(finding, static_cast<double>(count.size()), static_cast<double>(all_.size()), true, 0.0);
        finding.why = twice != count.end()    ? "Label " + twice->first + " stands on more than one part."
                      : *finding.margin < 0.0 ? "A part has no label."
                                              : "No two parts have the same label.";
        if (*finding.margin < 0.0) {
            finding.mend = Mend{"Give each part its own label before it is cut.", {}, {}, {}};
        }
        return finding;
    }

    [[nodiscard]] Finding whole() const {
        Finding finding = started("parts", "parts that can be cut");
        finding.unit = Unit::none;
        finding.formula =
            "parts with one closed outline, slots and all = parts planned; a slot opens on a straight edge, with 1 mm "
            "of wood round it";
        finding.source = "plane geometry; the wood that must stay: common practice, no source";
        const auto lacking = [&](const std::string& label, const auto& make) {
            const bool there = std::ranges::any_of(parts_, [&](const CutPart& part) { return part.label == label; });
            if (there) {
                return;
            }
            const geometry::Result<CutPart> made = make();
            const std::string why = made ? label + " is not among the parts that are cut." : made.error().message;
            finding.inputs.push_back({"not cut: " + label, why});
            finding.why = finding.why.empty() ? why : finding.why;
        };
        std::size_t planned = buck_.spines.size() + buck_.ribs.size() + (buck_.base ? 1 : 0);
        for (const Rib& rib : buck_.ribs) {
            const bool first = finding.inputs.empty();
            lacking(rib.label, [&] { return cut_rib(job_, buck_, rib); });
            if (first && !finding.inputs.empty()) {
                finding.place.along = rib.along;
                finding.place.words = rib.label + ", " + at_place_words(job_, rib.along);
            }
        }
        for (const Spine& spine : buck_.spines) {
            lacking(spine.label, [&] { return cut_spine(job_, buck_, spine); });
        }
        if (buck_.base) {
            lacking(buck_.base->label, [&] { return cut_base(job_, buck_); });
        }
        judge(finding, static_cast<double>(parts_.size()), static_cast<double>(planned), true, 0.0);
        if (finding.why.empty()) {
            finding.why = "Every part of the plan can be cut.";
        } else {
            finding.mend = Mend{"Move the spines or the rib so that the slot has wood round it.", {}, {}, {}};
        }
        return finding;
    }

    [[nodiscard]] bool has_parts() const { return !parts_.empty(); }

private:
    [[nodiscard]] Finding started(const std::string& name, const std::string& title) const {
        const Piece& piece = job_.skirt.pieces[buck_.piece];
        Finding finding;
        finding.id = "buck/" + piece.name + "/cut " + name;
        finding.title = "Buck of \"" + piece.name + "\", " + title;
        finding.stage = Stage::buck;
        return finding;
    }

    static void judge(Finding& finding, double found, double required, bool at_least, double band) {
        const double margin = at_least ? found - required : required - found;
        finding.found = found;
        finding.required = required;
        finding.at_least = at_least;
        finding.margin = std::abs(margin) < k_rounding ? 0.0 : margin;
        finding.state = state_of(finding.margin, band, finding.missing);
    }
    [[nodiscard]] double band(double widest) const {
        return close_band_within(in_mm(job_.limits.close_band.value), widest);
    }

    [[nodiscard]] const Rib* rib_of(const CutPart& part) const {
        const auto found = std::ranges::find(buck_.ribs, part.label, &Rib::label);
        return part.kind == PartKind::rib && found != buck_.ribs.end() ? &*found : nullptr;
    }
    /// " at side 12.0, height 80.2"
    [[nodiscard]] static std::string words_at(const CutPart& part, const Vector2d& p) {
        const bool rib = part.kind == PartKind::rib;
        return std::string(rib ? " at side " : " at ") + fixed_text(p.x(), 1) + (rib ? ", height " : ", ") +
               fixed_text(p.y(), 1);
    }
    void put_at(Finding& finding, const CutPart& part, const Vector2d& p) const {
        finding.place = {};
        finding.place.words = part.label + words_at(part, p);
        if (const Rib* const rib = rib_of(part)) {
            finding.place.words = part.label + ", " + at_place_words(job_, rib->along) + "," + words_at(part, p);
            finding.place.along = rib->along;
            // Back to the part's size; the skin between them is let be.
            const double tilt = geometry::in_rad(buck_.tilt);
            const double height = (p.y() + buck_.base_mm) / buck_.across_size;
            const double side = p.x() / buck_.across_size;
            finding.place.on_part_mm =
                Eigen::Vector3d(in_mm(rib->along), height * std::cos(tilt) - side * std::sin(tilt),
                                height * std::sin(tilt) + side * std::cos(tilt));
        }
    }

    const Job& job_;
    const PieceBuck& buck_;
    const std::vector<CutPart>& all_;
    std::vector<CutPart> parts_;
};

using Judged = Finding (CutJudge::*)() const;

/// The finding again, with something of the job changed.
class Mender {
public:
    Mender(const Job& job, const PieceBuck& buck, const BuckPlan& plan) : job_{job}, buck_{buck}, plan_{plan} {}

    /// The widest square bit with which it holds, and with which the bit goes through.
    [[nodiscard]] std::optional<Mend> other_bit(const Finding& finding, Judged judged) const {
        std::vector<Bit> bits = bits_of(job_.forming.router);
        std::erase_if(bits, [&](const Bit& bit) { return !is_square(bit) || bit.name == job_.buck.bit; });
        std::ranges::stable_sort(bits, std::greater<>{}, [](const Bit& bit) { return form_of(bit)->diameter; });
        for (const Bit& bit : bits) {
            const auto fits = tried({word_change("/buck/bit", bit.name)}, &CutJudge::bit);
            if (!holds(fits)) {
                continue;
            }
            if (auto mend = proven(finding, judged, {word_change("/buck/bit", bit.name)},
                                   "Cut with bit \"" + bit.name + "\".")) {
                return mend;
            }
        }
        return Mend{
            "Take a bit that does it into the router's list: flat, square at its end, narrow enough and long "
            "enough.",
            {},
            {},
            {}};
    }

    [[nodiscard]] std::optional<Mend> other_tabs(const Finding& finding) const {
        const double width = in_mm(job_.buck.tab_width.value);
        const double thinnest = thinnest_mm();
        if (in_mm(job_.buck.tab_height.value) > thinnest) {
            const Length half = millimetres(0.5 * thinnest);
            return proven(finding, &CutJudge::tabs, {length_change(job_, "/buck/tab_height", half)},
                          "Make tabs " + mm_text(half) + " high.");
        }
        for (double narrow = std::floor((width - k_rounding) / k_tab_step_mm) * k_tab_step_mm;
             narrow >= k_narrowest_tab_mm; narrow -= k_tab_step_mm) {
            const Length value = millimetres(narrow);
            if (auto mend = proven(finding, &CutJudge::tabs, {length_change(job_, "/buck/tab_width", value)},
                                   "Make tabs " + mm_text(value, 1) + " wide.")) {
                return mend;
            }
        }
        if (finding.unit == Unit::mm && finding.found) {
            const Length pitch = millimetres(std::ceil(*finding.found));
            if (auto mend = proven(finding, &CutJudge::tabs, {length_change(job_, "/buck/tab_pitch", pitch)},
                                   "Let tabs be " + mm_text(pitch, 0) + " apart, and hold the part down there.")) {
                return mend;
            }
        }
        return Mend{"Hold the part down with a screw in its waste, or leave an onion skin under it.", {}, {}, {}};
    }

private:
    static bool holds(const std::optional<Finding>& finding) {
        return finding && finding->margin && *finding->margin >= 0.0 && finding->missing.empty();
    }

    [[nodiscard]] double thinnest_mm() const {
        double least = buck_.base ? buck_.base->thickness_mm : std::numeric_limits<double>::infinity();
        for (const Rib& rib : buck_.ribs) {
            least = std::min(least, rib.thickness_mm);
        }
        for (const Spine& spine : buck_.spines) {
            least = std::min(least, spine.thickness_mm);
        }
        return least;
    }

    [[nodiscard]] std::optional<Finding> tried(const std::vector<FieldChange>& changes, Judged judged) const {
        const auto job = with_changes(job_, changes);
        if (!job) {
            return std::nullopt;
        }
        const auto parts = cut_parts(job.value(), plan_);
        if (!parts) {
            return std::nullopt;
        }
        const CutJudge judge(job.value(), buck_, parts.value());
        return judge.has_parts() ? std::optional((judge.*judged)()) : std::nullopt;
    }

    /// A change with which it holds, and the margin then of what fell short.
    [[nodiscard]] std::optional<Mend> proven(const Finding& finding, Judged judged, std::vector<FieldChange> changes,
                                             std::string words) const {
        const auto after = tried(changes, judged);
        if (!holds(after)) {
            return std::nullopt;
        }
        const bool counted = finding.unit == Unit::none && after->unit != Unit::none;
        const auto same = counted ? tried(changes, &CutJudge::tab_count) : after;
        return Mend{std::move(words), {}, same ? same->margin : std::nullopt, std::move(changes)};
    }

    const Job& job_;
    const PieceBuck& buck_;
    const BuckPlan& plan_;
};

}  // namespace

std::vector<Finding> cut_findings(const Job& job, const BuckPlan& plan, const std::vector<CutPart>& parts,
                                  Mends mends) {
    std::vector<Finding> all;
    for (const PieceBuck& buck : plan.pieces) {
        if (buck.ribs.empty()) {
            continue;
        }
        const CutJudge judge(job, buck, parts);
        all.push_back(judge.whole());
        if (!judge.has_parts()) {
            continue;
        }
        Finding bit = judge.bit();
        Finding reach = judge.reach();
        Finding tabs = judge.tabs();
        if (mends == Mends::look_for) {
            const Mender mender(job, buck, plan);
            if (bit.state == State::falls_short) {
                bit.mend = mender.other_bit(bit, &CutJudge::bit);
            }
            if (reach.state == State::falls_short) {
                reach.mend = mender.other_bit(reach, &CutJudge::reach);
            }
            if (tabs.state == State::falls_short) {
                tabs.mend = mender.other_tabs(tabs);
            }
        }
        all.push_back(std::move(bit));
        all.push_back(std::move(reach));
        all.push_back(judge.words());
        all.push_back(std::move(tabs));
        all.push_back(judge.labels());
    }
    return all;
}

}  // namespace sillwright::core
