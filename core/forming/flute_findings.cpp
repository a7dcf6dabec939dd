#include "core/forming/flute_findings.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <utility>

#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/forming/bit_choice.h"
#include "core/number_text.h"
#include "core/skirt/thickness.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// A margin nearer to zero than this is zero: rounding of places some metres from the origin.
constexpr double k_rounding = 1e-9;
/// Of the whole base plate: what bears by less more than it must is close.
constexpr double k_close_bearing = 0.05;
/// Vents in a flute's bottom: a hole every so often. Common practice, no source.
constexpr double k_vent_pitch_mm = 50.0;
constexpr const char* k_practice = "common practice, no source";

class LaneJudge {
public:
    LaneJudge(const Job& job, const Piece& piece, const std::vector<FluteLane>& lanes, const FluteLane& lane)
        : job_{job}, router_{job.forming.router}, piece_{piece}, lanes_{lanes}, lane_{lane} {}

    [[nodiscard]] std::vector<Finding> all() const {
        std::vector<Finding> findings{bit(), wood(), base_plate(), bearing(), run_out(), shelf(), form(), undercut()};
        if (lane_.land) {
            findings.push_back(land());
        }
        return findings;
    }

private:
    [[nodiscard]] std::string what() const {
        std::string words = lane_words(lane_);
        words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
        return words;
    }
    [[nodiscard]] std::string word() const { return lane_.recess ? "recess" : "flute"; }
    [[nodiscard]] bool on_face() const { return lane_.recess && piece_.recesses[lane_.number].on == RecessFace::face; }
    [[nodiscard]] std::string surface() const { return on_face() ? "face" : "shelf"; }

    [[nodiscard]] Finding started(const std::string& name, const std::string& title) const {
        Finding finding;
        finding.id = lane_id(piece_, lane_) + name;
        finding.title = what() + ", " + title;
        finding.stage = Stage::forming;
        finding.source = k_practice;
        if (lane_.rows.empty()) {
            finding.place.along = 0.5 * (lane_.front + lane_.rear);
            finding.place.words = at_place_words(job_, *finding.place.along);
        } else {
            at_row(finding, lane_.rows[lane_.rows.size() / 2]);
        }
        return finding;
    }

    void at_row(Finding& finding, const LaneRow& row) const {
        finding.place.along = row.along;
        finding.place.on_part_mm = Eigen::Vector3d(in_mm(row.along), row.middle_mm.x(), row.middle_mm.y());
        finding.place.words = at_place_words(job_, row.along);
    }

    void judge(Finding& finding, double found, double required, bool at_least, double band) const {
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

    /// Nothing can be said without rows: what they lack.
    [[nodiscard]] bool lacks_rows(Finding& finding) const {
        if (!lane_.rows.empty()) {
            return false;
        }
        finding.missing = lane_.missing;
        finding.why = "The " + word() + " is not laid on the " + surface() + " yet.";
        return true;
    }

    [[nodiscard]] Finding bit() const {
        Finding finding = started("bit", "router bit");
        finding.formula =
            "round nose: width 2 √(d (2 r - d)), no more than 2 r; flat: its diameter, above corners of radius c less "
            "by "
            "2 c - 2 √(d (2 c - d)); V: 2 d tan(a/2). Off by no more than 0.5 mm in width, and no rounder than drawn; "
            "deep enough";
        if (lane_.recess) {
            finding.formula =
                "half the bit's diameter no more than 0.5 mm above the outline's corner radius; deep enough";
        }
        finding.source = "plane geometry; what it may be off by: common practice, no source";
        ToCut cut{{lane_.mould_width, lane_.depth, lane_.mould_radius}, {}};
        if (lane_.recess) {
            cut.outline_radius = piece_.recesses[lane_.number].corner_radius.value;
        }
        const auto known = find_bit(router_, lane_.bit);
        const auto fit = known ? fit_of(router_, *known, cut) : std::nullopt;
        if (!fit) {
            finding.missing = {lane_.bit.empty() ? "a bit that can cut it"
                               : known.has_value()
                                   ? "diameter and form of bit \"" + lane_.bit + "\""
                                   : "bit \"" + lane_.bit + "\": it is neither in the job's list nor in the table"};
            finding.why = "With which bit the " + word() + " is cut is not known yet.";
            return finding;
        }
        finding.inputs = {
            {lane_.bit_proposed ? "bit, proposed" : "bit", lane_.bit},
            {"depth", mm_text(lane_.depth)},
            {lane_.recess ? "its diameter" : "it cuts, at that depth", mm_text(fit->width)},
            {lane_.recess ? "narrowest width of the recess" : "width on the plug", mm_text(lane_.mould_width)}};
        if (lane_.recess) {
            finding.inputs.push_back({"corner radius of the outline", mm_text(*cut.outline_radius)});
        } else {
            finding.inputs.push_back({"radius that it leaves at the bottom", mm_text(fit->radius)});
            finding.inputs.push_back({"radius drawn at the bottom", mm_text(lane_.mould_radius)});
        }
        finding.inputs.push_back({"passes", std::to_string(fit->passes) + ", each " +
                                                mm_text(lane_.depth / std::max(1, fit->passes)) + " deep"});
        if (fit->bit.form == BitForm::vee) {
            finding.inputs.push_back(
                {"limits of the model", "a V's flanks lean; the drawn flute's walls stand square"});
        }
        if (!fit->reach_left) {
            finding.inputs.push_back({"reach of the bit", "not known, taken as enough"});
        }
        const double tolerance = in_mm(k_cut_tolerance);
        const double off = std::abs(in_mm(fit->width_off));
        const double over = in_mm(fit->radius_over);
        if (fit->reach_left && *fit->reach_left <= fit->margin()) {
            judge(finding, in_mm(fit->bit.reach->value), in_mm(lane_.depth), true, band(in_mm(lane_.depth)));
            finding.why = lane_.bit + " reaches " + mm_text(fit->bit.reach->value) + " deep; the " + word() + " is " +
                          mm_text(lane_.depth) + " deep.";
        } else if (over > off) {
            judge(finding, over, tolerance, false, band(tolerance));
            finding.why = lane_.recess ? lane_.bit + " leaves corners of radius " + mm_text(0.5 * fit->width) +
                                             "; the outline's are drawn " + mm_text(*cut.outline_radius) + "."
                                       : lane_.bit + " leaves a radius of " + mm_text(fit->radius) +
                                             " at the bottom; drawn is " + mm_text(lane_.mould_radius) + ".";
        } else {
            judge(finding, off, tolerance, false, band(tolerance));
            finding.why = lane_.recess ? lane_.bit + " goes round the outline's corners."
                                       : lane_.bit + " cuts " + mm_text(fit->width) + " wide at a depth of " +
                                             mm_text(lane_.depth) + "; on the plug the flute is " +
                                             mm_text(lane_.mould_width) + " wide.";
        }
        return finding;
    }

    [[nodiscard]] Finding wood() const {
        Finding finding = started("wood", "wood left below it");
        finding.formula = "board - depth >= what must be left";
        const Length needed = router_.board_left.value;
        if (!lane_.wood_left) {
            finding.required = in_mm(needed);
            finding.missing = {"the thickness of the plug's board"};
            finding.why = "How much wood is left below the " + word() + " depends on the plug's board.";
            return finding;
        }
        finding.inputs = {{"board", mm_text(router_.board->value)}, {"depth", mm_text(lane_.depth)}};
        judge(finding, in_mm(*lane_.wood_left), in_mm(needed), true, band(in_mm(needed)));
        finding.why = *lane_.wood_left < Length{}
                          ? "The " + word() + " goes through the board."
                          : "Below the " + word() + " " + mm_text(*lane_.wood_left) + " of the board are left.";
        return finding;
    }

    [[nodiscard]] Finding base_plate() const {
        Finding finding = started("base plate", "base plate past upstands");
        finding.formula =
            "distance from the bit's axis to what rises above the base plate's plane >= radius of the base plate + "
            "room, "
            "along the whole lane, in that plane";
        if (!router_.base_radius) {
            finding.missing = {"the radius of the router's base plate"};
            finding.why = "Whether the base plate runs past what stands up beside the lane depends on its radius.";
            return finding;
        }
        if (lacks_rows(finding)) {
            return finding;
        }
        const Length needed = router_.base_radius->value + router_.base_room.value;
        add_fence(finding);
        const LaneRow* worst = nullptr;
        Length fouled;
        for (std::size_t i = 0; i < lane_.rows.size(); ++i) {
            const LaneRow& row = lane_.rows[i];
            if (row.room && (worst == nullptr || *row.room < *worst->room)) {
                worst = &row;
            }
            if (i > 0 && row.room && *row.room < needed) {
                fouled = fouled + (row.along - lane_.rows[i - 1].along);
            }
        }
        finding.inputs.push_back({"limits of the model", "what stands beyond the drawn line's ends is not known"});
        if (worst == nullptr) {
            finding.state = State::holds;
            finding.required = in_mm(needed);
            finding.why = "Nothing stands up beside the lane within reach of the base plate.";
            return finding;
        }
        at_row(finding, *worst);
        judge(finding, in_mm(*worst->room), in_mm(needed), true, band(in_mm(needed)));
        const std::string side = on_face() ? (worst->room_is_inner ? "below" : "above")
                                           : (worst->room_is_inner ? "on the car's side" : "on the outer side");
        finding.inputs.push_back({"side", side});
        if (*worst->room < needed) {
            finding.inputs.push_back({"fouled", mm_text(fouled, 0) + " of " + mm_text(lane_.rear - lane_.front, 0)});
            finding.why = "The base plate fouls what stands up " + side + ", " + mm_text(*worst->room) +
                          " from the bit's axis; it needs " + mm_text(needed) + ".";
        } else {
            finding.why = "The base plate runs past what stands up " + side + ", " + mm_text(*worst->room) +
                          " from the bit's axis.";
        }
        return finding;
    }

    void add_fence(Finding& finding) const {
        const Length radius = router_.base_radius->value;
        const Length offset = lane_.rows.front().edge_offset;
        const std::string edge = on_face() ? "bead" : "shelf edge";
        finding.inputs.push_back({"base plate's radius", mm_text(radius)});
        finding.inputs.push_back({"room beside it", mm_text(router_.base_room.value)});
        const Length outside = radius - offset;
        finding.inputs.push_back({"fence on the outer side", outside < Length{}
                                                                 ? mm_text(-outside) + " inward of the " + edge
                                                                 : mm_text(outside) + " outward of the " + edge});
        finding.inputs.push_back({"or on the inner side", mm_text(radius + offset) + " inward of the " + edge});
        finding.inputs.push_back(
            {"kind of fence", lane_.fence_straight ? "straight"
                              : lane_.batten       ? "a batten that bends to a radius of " + mm_text(*lane_.batten, 0)
                                                   : "a batten"});
    }

    [[nodiscard]] Finding bearing() const {
        Finding finding = started("bearing", "base plate on the " + surface());
        finding.unit = Unit::none;
        finding.formula = "area of the base plate over the " + surface() +
                          " and what is level with it to 0.5 mm / its whole area; the bit's hole and the flutes count "
                          "as filled, an end "
                          "to which it goes through as going on";
        if (!router_.base_radius) {
            finding.missing = {"the radius of the router's base plate"};
            finding.why = "How much of the base plate bears depends on its radius.";
            return finding;
        }
        if (lacks_rows(finding)) {
            return finding;
        }
        const LaneRow& worst = *std::min_element(lane_.rows.begin(), lane_.rows.end(),
                                                 [](const auto& a, const auto& b) { return *a.bearing < *b.bearing; });
        at_row(finding, worst);
        finding.inputs = {{"base plate's radius", mm_text(router_.base_radius->value)},
                          {"lane from the edge", mm_text(worst.edge_offset)}};
        judge(finding, *worst.bearing, router_.bearing_least, true, k_close_bearing);
        finding.why = fixed_text(100.0 * *worst.bearing, 0) + " % of the base plate lie on the " + surface() +
                      "; the rest hangs over.";
        return finding;
    }

    [[nodiscard]] Finding run_out() const {
        Finding finding = started("run-out", "run-outs");
        finding.formula = lane_.recess ? "from either end to the " + surface() + "'s end >= room"
                                       : "run-out, less half the width for its round end, to the shelf's end >= room";
        const Length needed = router_.run_out_room.value;
        if (lacks_rows(finding)) {
            return finding;
        }
        finding.inputs = {{"front", lane_.opens_front ? "goes through" : mm_text(lane_.front)},
                          {"rear", lane_.opens_rear ? "goes through" : mm_text(lane_.rear)}};
        if (!lane_.front_room && !lane_.rear_room) {
            finding.state = State::holds;
            finding.why = "It goes through to both ends.";
            return finding;
        }
        const bool at_front = lane_.front_room && (!lane_.rear_room || *lane_.front_room <= *lane_.rear_room);
        const Length room = at_front ? *lane_.front_room : *lane_.rear_room;
        at_row(finding, at_front ? lane_.rows.front() : lane_.rows.back());
        judge(finding, in_mm(room), in_mm(needed), true, band(in_mm(needed)));
        finding.why = "In " + std::string(at_front ? "front" : "the rear") + " it ends " + mm_text(room) +
                      " from the " + surface() + "'s end.";
        return finding;
    }

    [[nodiscard]] Finding land() const {
        Finding finding = started("land", "land to " + lane_.land_to);
        finding.formula = "from mouth to mouth along the " + surface() + ", on the mould";
        finding.inputs = {{"to", lane_.land_to}, {"width on the mould", mm_text(lane_.mould_width)}};
        const Length needed = router_.land_least.value;
        judge(finding, in_mm(*lane_.land), in_mm(needed), true, band(in_mm(needed)));
        finding.why = *lane_.land < Length{}
                          ? "It runs into " + lane_.land_to + "."
                          : "A land of " + mm_text(*lane_.land) + " stands to " + lane_.land_to + ".";
        return finding;
    }

    [[nodiscard]] Finding shelf() const {
        Finding finding = started("shelf", "on the straight of the " + surface());
        finding.formula = "from the mouth's nearer side to the rounding there >= 0";
        if (lacks_rows(finding)) {
            return finding;
        }
        const LaneRow& worst =
            *std::min_element(lane_.rows.begin(), lane_.rows.end(),
                              [](const auto& a, const auto& b) { return a.flat_left < b.flat_left; });
        at_row(finding, worst);
        judge(finding, in_mm(worst.flat_left), 0.0, true, in_mm(job_.limits.close_band.value));
        finding.why = worst.flat_left < Length{} ? "It reaches " + mm_text(-worst.flat_left) +
                                                       " into the rounding beside the " + surface() + "."
                                                 : "It lies on the straight of the " + surface() + ".";
        return finding;
    }

    [[nodiscard]] Finding form() const {
        Finding finding = started("form", "can be formed");
        finding.formula =
            "on the mould: depth <= 0.5 · width; bottom's radius >= sheet; on a male mould width >= 2 sheets + 2 radii "
            "(where these leave straight walls), seen width = width - 2 t tan(b/2) >= 0.6 · width, b the mouth's "
            "angle. "
            "Bottom's thickness: bulge sin b / b, then corners";
        finding.source =
            "depth: thermoprosite.us (ideal width is twice the height); radius: thermopro.com, design guidelines; "
            "widths: "
            "common practice, no source. Shops' rules differ by a factor of two to three";
        if (!job_.forming.mould) {
            finding.missing.emplace_back("whether the mould is male or female");
        }
        if (!lane_.sheet) {
            finding.missing.emplace_back("the sheet's thickness");
        }
        if (lane_.rows.empty()) {
            finding.missing = lane_.missing;
        }
        if (!finding.missing.empty()) {
            finding.why = "Whether sheet can be drawn into the " + word() + " is not known yet.";
            return finding;
        }
        std::vector<FormRule> rules = form_rules(piece_, lane_, *job_.forming.mould);
        if (lane_.recess && lane_.bottom_thickness) {  // Of a flute it is a finding of its own: thinning.h.
            const bool shelf = piece_.recesses[lane_.number].on == RecessFace::shelf;
            rules.push_back({"sheet in its bottom, less two standard deviations",
                             *lane_.bottom_thickness * (1.0 - k_forming_spread),
                             (shelf ? job_.forming.shelf_least : job_.forming.rest_least).value, true});
        }
        const auto worst = std::min_element(rules.begin(), rules.end(),
                                            [](const auto& a, const auto& b) { return a.margin() < b.margin(); });
        for (const FormRule& rule : rules) {
            finding.inputs.push_back({rule.name, mm_text(rule.found) + (rule.at_least ? ", at least " : ", at most ") +
                                                     mm_text(rule.required)});
        }
        finding.inputs.push_back({"seen on the part", mm_text(lane_.part_width)});
        finding.inputs.push_back({"sheet beside it, formed", mm_text(*lane_.sheet)});
        if (lane_.bottom_thickness) {
            finding.inputs.push_back({"sheet in its bottom", mm_text(*lane_.bottom_thickness)});
        }
        if (!lane_.recess) {
            finding.inputs.push_back({"seen widths, from the edge inward", graduation()});
        }
        const double length = in_mm(lane_.rear - lane_.front);
        finding.inputs.push_back({"vents", std::to_string(static_cast<int>(std::ceil(length / k_vent_pitch_mm)) + 1) +
                                               " of 0.6 mm in its bottom, 40 to 60 mm apart"});
        finding.inputs.push_back({"limits of the model", "cold moulds, plugs and friction are not in it"});
        judge(finding, in_mm(worst->found), in_mm(worst->required), worst->at_least, band(in_mm(worst->required)));
        finding.why = "Its " + worst->name + " is " + mm_text(worst->found) + ", and must be " +
                      (worst->at_least ? "at least " : "at most ") + mm_text(worst->required) + ".";
        return finding;
    }

    [[nodiscard]] std::string graduation() const {
        std::vector<const FluteLane*> flutes;
        for (const FluteLane& lane : lanes_) {
            if (!lane.recess) {
                flutes.push_back(&lane);
            }
        }
        std::stable_sort(flutes.begin(), flutes.end(), [&](const FluteLane* a, const FluteLane* b) {
            return piece_.flutes[a->number].offset.value < piece_.flutes[b->number].offset.value;
        });
        std::string text;
        for (const FluteLane* lane : flutes) {
            text += (text.empty() ? "" : " / ") + fixed_text(in_mm(lane->part_width), 1);
        }
        return text + " mm";
    }

    [[nodiscard]] Finding undercut() const {
        Finding finding = started("undercut", "leaves the mould");
        finding.formula = "height of the wall ahead, square to the draw direction, that the sheet in the " + word() +
                          " must be sprung over <= what the part can be sprung over";
        finding.source = "plane geometry; what it can be sprung over is the job's";
        if (lane_.rows.empty()) {
            finding.missing = lane_.missing;
        } else if (!lane_.undercut) {
            finding.missing.emplace_back("the tilt of the draw direction");
        }
        if (!finding.missing.empty()) {
            finding.why = "Whether the " + word() + " leaves the mould is not known yet.";
            return finding;
        }
        const Length most = job_.forming.undercut_most.value;
        finding.inputs = {{"depth", mm_text(lane_.depth)}, {"angle at its mouth", degree_text(lane_.mouth, 1)}};
        judge(finding, in_mm(*lane_.undercut), in_mm(most), false, band(in_mm(most)));
        finding.why = *lane_.undercut > Length{} ? "Its wall holds the part: the " + surface() +
                                                       " must be sprung off by " + mm_text(*lane_.undercut) + "."
                                                 : "Its walls let the part go.";
        return finding;
    }

    const Job& job_;
    const Router& router_;
    const Piece& piece_;
    const std::vector<FluteLane>& lanes_;
    const FluteLane& lane_;
};

}  // namespace

std::string lane_id(const Piece& piece, const FluteLane& lane) {
    return "forming/" + piece.name + (lane.recess ? "/recess/" : "/flute/") + lane.name + "/";
}

std::string lane_words(const FluteLane& lane) {
    const std::string word = lane.recess ? "recess" : "flute";
    return lane.name.starts_with(word) ? lane.name : word + " " + lane.name;
}

std::vector<FormRule> form_rules(const Piece& piece, const FluteLane& lane, MouldKind mould) {
    std::vector<FormRule> rules;
    if (!lane.sheet) {
        return rules;
    }
    const Length sheet = piece.sheet ? piece.sheet->value : *lane.sheet;
    const Length narrow = lane.recess ? std::min(lane.mould_width, lane.rear - lane.front) : lane.mould_width;
    rules.push_back({"depth", lane.depth, k_depth_by_width * narrow, false});
    if (lane.recess) {
        rules.push_back({"corner radius", piece.recesses[lane.number].corner_radius.value, sheet});
    }
    // A recess that is shallower than the sheet is thick is bridged anyway.
    if (!lane.recess || lane.depth > sheet) {
        rules.push_back({"bottom radius", lane.mould_radius, sheet});
    }
    if (mould == MouldKind::male) {
        if (lane.mould_radius <= lane.depth) {
            rules.push_back({"width", narrow, 2.0 * (sheet + lane.mould_radius)});
        }
        rules.push_back({"seen width", lane.part_width, k_seen_by_mould * lane.mould_width});
    }
    return rules;
}

std::vector<Finding> lane_findings(const Job& job, const Piece& piece, const std::vector<FluteLane>& lanes) {
    std::vector<Finding> findings;
    for (const FluteLane& lane : lanes) {
        for (Finding& finding : LaneJudge(job, piece, lanes, lane).all()) {
            findings.push_back(std::move(finding));
        }
    }
    return findings;
}

}  // namespace sillwright::core
