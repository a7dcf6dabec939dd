#include "core/forming/thinning.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <functional>
#include <utility>

#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/forming/flute_form.h"
#include "core/forming/mould_section.h"
#include "core/number_text.h"
#include "core/skirt/flange_face.h"
#include "core/skirt/fluted_section.h"
#include "core/skirt/thickness.h"
#include "geometry/profile.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Angle;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::Result;

namespace {

constexpr const char* k_bead = "bead";
/// Part of the way to either neighbour that is called the bead.
constexpr double k_bead_part = 0.25;
/// Thicknesses in which sheet is sold, and the thickest that a vacuum former heats: common practice, no source.
constexpr double k_gauge_step_mm = 0.5;
constexpr double k_gauge_most_mm = 8.0;
/// Clamp lines are set to whole five millimetres.
constexpr double k_clamp_step_mm = 5.0;
/// A clamp line so much further out is tried before a thicker sheet, and so much with one: what a machine may have to
/// spare, common practice, no source.
constexpr double k_clamp_little = 1.2;
constexpr std::array<double, 3> k_clamp_factors{1.5, 2.0, 3.0};
/// A thicker sheet changes the mould's face a little, so the next gauge may be needed: so many are tried.
constexpr int k_gauges_tried = 4;
/// A smaller margin of the draw ratio is close: common practice, no source.
constexpr double k_close_ratio = 0.2;

constexpr const char* k_limits_of_model =
    "each section by itself (plane strain), a cold mould on which the sheet sticks at once, no plug, no slip, the "
    "sheet "
    "evenly hot, the mould's end walls not counted; measure the first part";

// --- the places ----------------------------------------------------------------------------------------------------

/// A stretch of marks.
struct Stretch {
    double from = 0.0, to = 0.0;

    [[nodiscard]] bool has_inside(double mark) const { return from < mark && mark < to; }
};

std::optional<double> number_of(const Loft& line, const char* name) {
    const auto& names = line.names();
    const auto found = std::find(names.begin(), names.end(), name);
    return found == names.end() ? std::nullopt : std::optional{static_cast<double>(found - names.begin())};
}

std::optional<Stretch> strip_of(const Loft& line, const char* from, const char* to) {
    const auto first = number_of(line, from);
    const auto second = number_of(line, to);
    return first && second && *second == *first + 1.0 ? std::optional{Stretch{*first, *second}} : std::nullopt;
}

std::optional<Stretch> bead_of(const Loft& line) {
    const auto bead = number_of(line, k_bead);
    return bead ? std::optional{Stretch{*bead - k_bead_part, *bead + k_bead_part}} : std::nullopt;
}

struct Thinnest {
    Length along;
    double mark = 0.0, share = 0.0;
};

void keep_thinner(std::optional<Thinnest>& thinnest, const FormedSheet& formed, Length along, double mark) {
    const double share = formed.share_at(along, mark);
    if (!thinnest || share < thinnest->share) {
        thinnest = Thinnest{along, mark, share};
    }
}

/// Shares are linear between rows and marks, so the thinnest place is at one of them or at the stretch's ends.
std::optional<Thinnest> thinnest_in(const FormedSheet& formed, const Stretch& stretch) {
    std::optional<Thinnest> thinnest;
    for (const Length along : formed.rows) {
        keep_thinner(thinnest, formed, along, std::max(stretch.from, formed.marks.front()));
        keep_thinner(thinnest, formed, along, std::min(stretch.to, formed.marks.back()));
        for (const double mark : formed.marks) {
            if (stretch.has_inside(mark)) {
                keep_thinner(thinnest, formed, along, mark);
            }
        }
    }
    return thinnest;
}

std::optional<Thinnest> thinnest_outside(const FormedSheet& formed, const std::vector<Stretch>& named) {
    std::optional<Thinnest> thinnest;
    for (const double mark : formed.marks) {
        const bool is_named = std::any_of(named.begin(), named.end(), [&](const Stretch& one) {
            return one.has_inside(mark) || (mark == formed.marks.front() && one.from == mark) ||
                   (mark == formed.marks.back() && one.to == mark);
        });
        for (const Length along : formed.rows) {
            if (!is_named) {
                keep_thinner(thinnest, formed, along, mark);
            }
        }
    }
    return thinnest;
}

/// Nearest on the drawn line to a place on the straight between two corners.
Vector2d on_line(const Loft& line, Length along, double mark) {
    const auto nodes = line.nodes_at(along);
    const auto first = std::min(static_cast<std::size_t>(std::max(mark, 0.0)), nodes.size() - 2);
    const double part = mark - static_cast<double>(first);
    const Vector2d p = nodes[first].p_mm + part * (nodes[first + 1].p_mm - nodes[first].p_mm);
    const auto profile = line.section_at(along);
    return profile ? nearest_point(profile.value(), p).p_mm : p;
}

ThinPlace thin_place(const std::string& name, const FormedSheet& formed, const Loft& line, const Thinnest& at,
                     double more, Length needed) {
    ThinPlace place;
    place.name = name;
    place.share = at.share * more;
    place.thickness = formed.sheet * place.share;
    place.sd = place.thickness * (0.5 * k_forming_spread);
    place.needed = needed;
    place.along = at.along;
    place.at_mm = on_line(line, at.along, at.mark);
    place.sheet_needed = needed / (place.share * (1.0 - k_forming_spread));
    return place;
}

/// Where a flute's middle is thinnest along its run.
std::optional<Thinnest> under_flute(const FormedSheet& formed, const Loft& line, const Flute& flute,
                                    const Stretch& shelf) {
    std::optional<Thinnest> thinnest;
    std::vector<Length> places = formed.rows;
    for (const auto& end : {flute.front, flute.rear}) {
        if (end) {
            places.push_back(std::clamp(end->value, line.front(), line.rear()));
        }
    }
    const auto inner = static_cast<std::size_t>(shelf.from);
    for (const Length along : places) {
        if (!runs_at(flute, along)) {
            continue;
        }
        const auto nodes = line.nodes_at(along);
        const double width_mm = (nodes[inner + 1].p_mm - nodes[inner].p_mm).norm();
        const double offset_mm = in_mm(flute.offset.value);
        if (offset_mm < width_mm) {
            keep_thinner(thinnest, formed, along, shelf.to - offset_mm / width_mm);
        }
    }
    return thinnest;
}

/// Of the thickness beside it; none for a flute without width or depth.
std::optional<double> share_in(const Flute& flute, DrawnFace face, MouldKind mould, Length beside) {
    if (!(flute.width.value > Length{} && flute.depth.value > Length{})) {
        return std::nullopt;
    }
    const GrooveSection drawn{flute.width.value, flute.depth.value, flute.bottom_radius.value};
    const GrooveSection section = groove_faces(drawn, face, mould, beside).mould;
    return bottom_thickness(section, mould, beside) / beside;
}

void add_flutes(Thinning& thinning, const Job& job, const Piece& piece, const Loft& line, const FormedSheet& formed) {
    if (piece.flutes.empty()) {
        return;
    }
    const auto shelf = strip_of(line, k_shelf_inner, k_shelf_edge);
    if (!shelf) {
        thinning.missing.emplace_back("a shelf for the flutes: the nodes shelf inner and shelf edge");
        return;
    }
    for (const Flute& flute : piece.flutes) {
        const auto at = under_flute(formed, line, flute, *shelf);
        const auto more = at ? share_in(flute, piece.drawn_face, formed.mould, formed.thickness_at(at->along, at->mark))
                             : std::nullopt;
        if (!more) {
            thinning.missing.push_back("a form of flute " + flute.name + " that lies on the shelf");
            continue;
        }
        thinning.places.push_back(
            thin_place("flute " + flute.name, formed, line, *at, *more, job.forming.shelf_least.value));
    }
}

}  // namespace

// --- draw ratio ----------------------------------------------------------------------------------------------------

Result<DrawRatio> draw_ratio(const Job& job, const Piece& piece, const Loft& line, Angle tilt) {
    DrawRatio whole;
    const auto keys = line.key_places();
    for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
        const double gap_mm = in_mm(keys[i + 1] - keys[i]);
        constexpr std::array<double, 3> k_parts{0.0, 0.5, 1.0};
        constexpr std::array<double, 3> k_weights{1.0 / 6.0, 4.0 / 6.0, 1.0 / 6.0};
        for (std::size_t k = 0; k < k_parts.size(); ++k) {
            const auto section = mould_section(job, piece, line, keys[i] + (keys[i + 1] - keys[i]) * k_parts[k], tilt);
            if (!section) {
                return section.error();
            }
            whole.formed_mm2 += k_weights[k] * gap_mm * section.value().formed_mm();
            whole.clamped_mm2 += k_weights[k] * gap_mm * section.value().clamped_mm();
        }
    }
    return whole;
}

// --- thinning ------------------------------------------------------------------------------------------------------

Thinning thinning(const Job& job, const Piece& piece, const Loft& line, const FormedSheet* formed) {
    Thinning thinning;
    if (formed == nullptr) {
        thinning.missing = lacking_for_formed_sheet(job, piece);
        return thinning;
    }
    std::vector<Stretch> named;
    const auto add = [&](const std::string& name, const std::optional<Stretch>& stretch, Length needed) {
        if (!stretch) {
            return;
        }
        named.push_back(*stretch);
        if (const auto at = thinnest_in(*formed, *stretch)) {
            thinning.places.push_back(thin_place(name, *formed, line, *at, 1.0, needed));
        }
    };
    add("flange", strip_of(line, k_flange_root, k_flange_end), job.forming.flange_least.value);
    add("shelf", strip_of(line, k_shelf_inner, k_shelf_edge), job.forming.shelf_least.value);
    add("bead", bead_of(line), job.forming.rest_least.value);
    if (const auto at = thinnest_outside(*formed, named)) {
        thinning.places.push_back(thin_place("rest", *formed, line, *at, 1.0, job.forming.rest_least.value));
    }
    add_flutes(thinning, job, piece, line, *formed);
    if (const auto ratio = draw_ratio(job, piece, line, formed->tilt)) {
        thinning.draw_ratio = ratio.value().ratio();
    }
    return thinning;
}

// --- findings ------------------------------------------------------------------------------------------------------

namespace {

/// A change that is tried, with what comes of it.
struct Trial {
    std::vector<FieldChange> changes;
    Thinning thinning;
};

class Findings {
public:
    Findings(const Job& job, const Piece& piece, const Loft& line, const FormedSheet* formed, const Thinning& thinning,
             Mends mends)
        : job_{job}, piece_{piece}, line_{line}, formed_{formed}, thinning_{thinning}, mends_{mends} {}

    std::vector<Finding> run() {
        if (formed_ == nullptr) {
            return {not_formed("thickness", "thickness of the formed sheet", Unit::mm),
                    not_formed("draw ratio", "draw ratio", Unit::none)};
        }
        std::vector<Finding> findings;
        for (const ThinPlace& place : thinning_.places) {
            findings.push_back(thickness(place));
        }
        if (!thinning_.missing.empty()) {
            Finding finding = begun("thickness/flutes", "thickness in its flutes", Unit::mm);
            put_model(finding);
            finding.why = "Some flutes cannot be formed as they are described.";
            finding.missing = thinning_.missing;
            findings.push_back(std::move(finding));
        }
        findings.push_back(ratio());
        return findings;
    }

private:
    [[nodiscard]] Finding begun(const std::string& name, const std::string& title, Unit unit) const {
        Finding finding;
        finding.id = "forming/" + piece_.name + "/" + name;
        finding.title = piece_.name + ", " + title;
        finding.stage = Stage::forming;
        finding.unit = unit;
        return finding;
    }

    static void put_model(Finding& finding) {
        finding.formula =
            "sheet · share of the thinnest place - 2 sd >= least thickness; share by sequential contact: the free "
            "sheet is "
            "an arc of even thickness, and keeps its thickness where it touches";
        finding.source =
            "model: after Throne (bmi.berkeley.edu/Me221, thermoforming theory); spread: +-10 % taken as two sd, "
            "fiberpad.com, design parameters; least thickness: common practice, no source";
    }

    static void put_ratio(Finding& finding) {
        finding.formula = "area formed / area clamped <= draw ratio; mean thickness = sheet / ratio";
        finding.source =
            "definition: rayplastics.com, Designing for thermoforming, chapter 2; up to 2 is easy, 3 the most for "
            "plain "
            "vacuum: common practice, no source";
    }

    [[nodiscard]] Finding not_formed(const std::string& name, const std::string& title, Unit unit) const {
        Finding finding = begun(name, title, unit);
        unit == Unit::mm ? put_model(finding) : put_ratio(finding);
        finding.at_least = unit == Unit::mm;
        finding.missing = lacking_for_formed_sheet(job_, piece_);
        finding.why = "How the sheet thins is not known yet.";
        if (finding.missing.empty()) {
            const auto formed = formed_sheet(job_, piece_, line_, job_.forming.tilt.value_or(Angle{}));
            finding.why =
                formed ? "The sheet cannot be formed at the draw direction that is used." : formed.error().message;
            finding.missing = {"a shape and a clamp line with which the sheet can be formed"};
        }
        return finding;
    }

    [[nodiscard]] std::string mould_words() const {
        return *job_.forming.mould == MouldKind::male ? "male, its inside on it" : "female, its outside in it";
    }

    static std::string where(const ThinPlace& place, const std::string& piece) {
        if (place.name == "rest") {
            return "the rest of " + piece;
        }
        return place.name.starts_with("flute ") ? "the bottom of " + place.name : "the " + place.name;
    }

    Finding thickness(const ThinPlace& place) {
        const bool flute = place.name.starts_with("flute ");
        Finding finding =
            begun("thickness/" + place.name,
                  "thickness of " + (place.name == "rest" ? "the rest" : where(place, piece_.name)), Unit::mm);
        put_model(finding);
        finding.found = in_mm(place.thickness - 2.0 * place.sd);
        finding.required = in_mm(place.needed);
        finding.margin = *finding.found - *finding.required;
        finding.state = state_of(
            finding.margin,
            close_band_within(in_mm(job_.limits.close_band.value), std::max(0.0, in_mm(formed_->sheet - place.needed))),
            {});
        finding.place.along = place.along;
        finding.place.words = at_place_words(job_, place.along);
        finding.place.on_part_mm = Eigen::Vector3d(in_mm(place.along), place.at_mm.x(), place.at_mm.y());
        finding.unsure_by = {{"spread within a formed part", in_mm(place.sd)}};
        finding.inputs = {{"sheet", mm_text(formed_->sheet)},
                          {"share of it left", fixed_text(100.0 * place.share, 1) + " %"},
                          {"thickness", mm_text(place.thickness)},
                          {"standard deviation", mm_text(place.sd)},
                          {"sheet with which it would do", mm_text(place.sheet_needed)},
                          {"mould", mould_words()},
                          {"from the mould's foot to the clamp line", mm_text(job_.forming.clamp_distance->value)},
                          {"trim allowance", mm_text(job_.forming.trim_allowance.value)},
                          {"limits of the model", k_limits_of_model}};
        if (flute && *job_.forming.mould == MouldKind::female) {
            finding.inputs.push_back(
                {"limits on a female mould",
                 "there the flute is a ridge: the sheet lies on it first, and stays as thick as beside it"});
        }
        finding.why = "Of the " + mm_text(formed_->sheet) + " sheet " + mm_text(place.thickness) + " are left in " +
                      where(place, piece_.name) + " at its thinnest.";
        if (finding.state == State::falls_short) {
            mend(finding, place);
        }
        return finding;
    }

    [[nodiscard]] std::string piece_pointer() const {
        const auto& pieces = job_.skirt.pieces;
        const auto found =
            std::find_if(pieces.begin(), pieces.end(), [&](const Piece& one) { return one.name == piece_.name; });
        return "/skirt/pieces/" + std::to_string(found - pieces.begin());
    }

    /// The piece formed anew with a thicker sheet, a further clamp line, or both; nothing if it cannot be.
    const Trial* tried(std::optional<Length> sheet, std::optional<Length> clamp) {
        std::vector<FieldChange> changes;
        if (sheet) {
            changes.push_back(length_change(job_, piece_pointer() + "/sheet", *sheet));
        }
        if (clamp) {
            changes.push_back(length_change(job_, "/forming/clamp_distance", *clamp));
        }
        const auto before =
            std::find_if(trials_.begin(), trials_.end(), [&](const auto& one) { return one.changes == changes; });
        if (before != trials_.end()) {
            return before->thinning.places.empty() ? nullptr : &*before;
        }
        Trial trial{changes, {}};
        if (const auto job = with_changes(job_, changes)) {
            const auto& pieces = job.value().skirt.pieces;
            const auto piece =
                std::find_if(pieces.begin(), pieces.end(), [&](const Piece& one) { return one.name == piece_.name; });
            const auto formed = formed_sheet(job.value(), *piece, line_, formed_->tilt);
            if (formed && formed.value()) {
                trial.thinning = core::thinning(job.value(), *piece, line_, formed.value().get());
            }
        }
        trials_.push_back(std::move(trial));
        return trials_.back().thinning.places.empty() ? nullptr : &trials_.back();
    }

    static std::optional<double> margin_in(const Trial* trial, const std::string& name) {
        if (trial == nullptr) {
            return std::nullopt;
        }
        for (const ThinPlace& place : trial->thinning.places) {
            if (place.name == name) {
                return in_mm(place.thickness - 2.0 * place.sd - place.needed);
            }
        }
        return std::nullopt;
    }

    static Length gauge_above(Length needed) {
        constexpr double k_noise = 1e-9;  // a gauge that is met exactly does
        return millimetres(k_gauge_step_mm * std::ceil(in_mm(needed) / k_gauge_step_mm - k_noise));
    }

    [[nodiscard]] Length clamp_times(double factor) const {
        const double clamp_mm = in_mm(job_.forming.clamp_distance->value) * factor;
        return millimetres(k_clamp_step_mm * std::ceil(clamp_mm / k_clamp_step_mm));
    }

    /// The same sheet clamped a little further out, a thicker one, or a thicker one clamped further out: the first that
    /// does. On a female mould the rim lies between, so that the clamp line is of no use.
    void mend(Finding& finding, const ThinPlace& place) {
        if (mends_ == Mends::leave) {
            return;
        }
        const bool male = *job_.forming.mould == MouldKind::male;
        const Length little = clamp_times(k_clamp_little);
        if (male && take_if_holds(finding, place, std::nullopt, little)) {
            return;
        }
        if (thicker(finding, place, place.sheet_needed, std::nullopt)) {
            return;
        }
        for (const double factor : k_clamp_factors) {
            const Length clamp = clamp_times(factor);
            const auto margin = male ? margin_in(tried(std::nullopt, clamp), place.name) : std::nullopt;
            if (!margin) {
                continue;
            }
            const Length needed = formed_->sheet * (in_mm(place.needed) / (*margin + in_mm(place.needed)));
            if (needed <= formed_->sheet ? take_if_holds(finding, place, std::nullopt, clamp)
                                         : thicker(finding, place, needed, clamp)) {
                return;
            }
        }
        finding.mend =
            Mend{place.name.starts_with("flute ")
                     ? "Make the flute shallower or wider, or round its bottom more: no usual sheet is thick enough."
                     : "Make the mould lower or give its walls more draft: no usual sheet is thick enough.",
                 {},
                 std::nullopt};
    }

    bool thicker(Finding& finding, const ThinPlace& place, Length needed, std::optional<Length> clamp) {
        Length gauge = gauge_above(needed);
        for (int i = 0; i < k_gauges_tried && in_mm(gauge) <= k_gauge_most_mm; ++i) {
            if (take_if_holds(finding, place, gauge, clamp)) {
                return true;
            }
            gauge = gauge + millimetres(k_gauge_step_mm);
        }
        return false;
    }

    bool take_if_holds(Finding& finding, const ThinPlace& place, std::optional<Length> gauge,
                       std::optional<Length> clamp) {
        const Trial* const trial = tried(gauge, clamp);
        const auto margin = margin_in(trial, place.name);
        if (!margin || *margin < 0.0) {
            return false;
        }
        std::string words = gauge ? "Form it of sheet " + mm_text(*gauge, 1) + " thick" : "Clamp the sheet";
        if (clamp) {
            words += (gauge ? ", clamped " : " ") + mm_text(*clamp, 0) + " from the mould's foot";
        }
        finding.mend = Mend{words + ".", {}, margin, trial->changes};
        return true;
    }

    Finding ratio() {
        Finding finding = begun("draw ratio", "draw ratio", Unit::none);
        put_ratio(finding);
        finding.at_least = false;
        const auto ratio = draw_ratio(job_, piece_, line_, formed_->tilt);
        if (!ratio) {
            finding.why = ratio.error().message;
            finding.missing = {"a mould with which the sheet can be formed"};
            return finding;
        }
        const Length mean = ratio.value().mean_thickness(formed_->sheet);
        finding.found = ratio.value().ratio();
        finding.required = job_.forming.draw_ratio_most;
        finding.margin = *finding.required - *finding.found;
        finding.state =
            state_of(finding.margin, close_band_within(k_close_ratio, std::max(0.0, *finding.required - 1.0)), {});
        constexpr double k_mm2_by_cm2 = 100.0;
        finding.inputs = {
            {"area formed", fixed_text(ratio.value().formed_mm2 / k_mm2_by_cm2, 0) + " cm²"},
            {"area clamped", fixed_text(ratio.value().clamped_mm2 / k_mm2_by_cm2, 0) + " cm²"},
            {"sheet", mm_text(formed_->sheet)},
            {"mean thickness", mm_text(mean)},
            {"limits of the model", "between the part's two ends; the mould's end walls are not counted"}};
        finding.why = "The sheet is drawn to " + fixed_text(*finding.found, 2) + " times its area, to " +
                      mm_text(mean) + " in the mean.";
        if (finding.state == State::falls_short && mends_ == Mends::look_for) {
            mend_ratio(finding, ratio.value());
        }
        return finding;
    }

    void mend_ratio(Finding& finding, const DrawRatio& ratio) {
        const double most = job_.forming.draw_ratio_most;
        const double length_mm = in_mm(line_.rear() - line_.front());
        finding.mend =
            Mend{"Make the mould lower: no flat sheet about it brings the ratio down that far.", {}, std::nullopt};
        if (most <= 1.0) {
            return;
        }
        // both areas grow by twice the way out, by the length
        const double more_mm = (ratio.formed_mm2 - most * ratio.clamped_mm2) / (2.0 * length_mm * (most - 1.0));
        const double clamp_mm = in_mm(job_.forming.clamp_distance->value) + more_mm;
        const Length clamp = millimetres(k_clamp_step_mm * std::ceil(clamp_mm / k_clamp_step_mm));
        std::vector<FieldChange> changes{length_change(job_, "/forming/clamp_distance", clamp)};
        const auto trial = with_changes(job_, changes);
        const auto after = trial ? draw_ratio(trial.value(), piece_, line_, formed_->tilt) : ratio;
        if (trial && after && after.value().ratio() <= most) {
            finding.mend = Mend{"Clamp the sheet " + mm_text(clamp, 0) + " from the mould's foot.",
                                {},
                                most - after.value().ratio(),
                                std::move(changes)};
        }
    }

    const Job& job_;
    const Piece& piece_;
    const Loft& line_;
    const FormedSheet* formed_;
    const Thinning& thinning_;
    Mends mends_;
    std::vector<Trial> trials_;
};

}  // namespace

std::vector<Finding> thinning_findings(const Job& job, const Piece& piece, const Loft& line, const FormedSheet* formed,
                                       const Thinning& thinning, Mends mends) {
    return Findings(job, piece, line, formed, thinning, mends).run();
}

}  // namespace sillwright::core
