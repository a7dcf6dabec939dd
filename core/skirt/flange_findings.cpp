#include "core/skirt/flange_findings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <utility>

#include "core/car_model.h"
#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/forming/draw.h"
#include "core/forming/formed_sheet.h"
#include "core/number_text.h"
#include "core/skirt/flange_bend.h"
#include "core/skirt/flange_face.h"
#include "core/skirt/thickness.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Angle;
using geometry::in_deg;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::radians;

namespace {

/// Pairs of names between which the part's face is drawn, the first that is there.
constexpr std::array<std::pair<const char*, const char*>, 2> k_faces{{{"bead", "knee"}, {"knee", "lower edge"}}};

/// A smaller margin of draft is close: what a mould maker works to.
constexpr double k_close_draft_deg = 0.5;

struct At {
    Length along;
    Angle angle;
};

std::vector<Length> places(const Loft& line) {
    std::vector<Length> all;
    const auto keys = line.key_places();
    for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
        for (int k = 0; k <= k_between; ++k) {
            all.push_back(keys[i] + (keys[i + 1] - keys[i]) * (static_cast<double>(k) / (k_between + 1)));
        }
    }
    all.push_back(keys.back());
    return all;
}

/// The place with the least (or greatest) of an angle along the piece.
std::optional<At> extreme(const Loft& line, bool least, const std::function<std::optional<Angle>(Length)>& angle) {
    std::optional<At> best;
    for (const Length along : places(line)) {
        const auto there = angle(along);
        if (there && (!best || (least ? *there < best->angle : *there > best->angle))) {
            best = At{along, *there};
        }
    }
    return best;
}

std::optional<std::size_t> number_of(const Loft& line, const std::string& name) {
    const auto found = std::find(line.names().begin(), line.names().end(), name);
    return found == line.names().end() ? std::nullopt
                                       : std::optional{static_cast<std::size_t>(found - line.names().begin())};
}

/// The numbers of the two nodes between which the face is drawn.
std::optional<std::pair<std::size_t, std::size_t>> face_nodes(const Loft& line) {
    for (const auto& [from, to] : k_faces) {
        const auto first = number_of(line, from);
        const auto last = number_of(line, to);
        if (first && last) {
            return std::pair{*first, *last};
        }
    }
    return std::nullopt;
}

/// Angle between face and flange, measured inside the part: 90 degrees is square.
std::optional<Angle> included_angle(const Loft& line, std::size_t from, std::size_t to, std::size_t root,
                                    Length along) {
    const auto nodes = line.nodes_at(along);
    const Vector2d face = nodes[from].p_mm - nodes[to].p_mm;
    const Vector2d flange = nodes[root + 1].p_mm - nodes[root].p_mm;
    if (face.isZero() || flange.isZero()) {
        return std::nullopt;
    }
    const double across = face.x() * flange.y() - face.y() * flange.x();
    return radians(std::atan2(std::abs(across), face.dot(flange)));
}

void put_place(Finding& finding, const Job& job, Length along) {
    finding.place.along = along;
    finding.place.words = at_place_words(job, along);
}

void judge_draft(Finding& finding, const Job& job, const Loft& line) {
    finding.unit = Unit::deg;
    finding.formula = "angle between face and flange - 90 degrees >= least draft";
    finding.source = "thermopro.com, Design guidelines: 3 degrees at least on a male mould";
    const auto nodes = face_nodes(line);
    if (!nodes) {
        finding.why = "Without bead, knee or lower edge there is no face to measure the flange's draft from.";
        finding.missing = {"the nodes bead and knee, or knee and lower edge"};
        return;
    }
    const std::size_t root = *number_of(line, k_flange_root);
    const auto least = extreme(
        line, true, [&](Length along) { return included_angle(line, nodes->first, nodes->second, root, along); });
    if (!least) {
        finding.why = "The flange has no length anywhere.";
        finding.missing = {"a flange with a length"};
        return;
    }
    const Angle draft = least->angle - geometry::degrees(90.0);
    finding.found = in_deg(draft);
    finding.required = in_deg(k_least_draft);
    finding.margin = *finding.found - *finding.required;
    finding.state = state_of(finding.margin, k_close_draft_deg, {});
    finding.inputs = {{"angle between face and flange", degree_text(least->angle)}};
    put_place(finding, job, least->along);
    finding.why = "Formed with the part, the flange has a draft of " + degree_text(draft) + " on the male mould.";
    if (finding.state == State::falls_short) {
        finding.why = "Formed with the part, the flange has a draft of only " + degree_text(draft) +
                      ": it does not leave the male mould.";
        finding.mend = Mend{"Form it flat and bend it after, or open the angle to the face by " +
                                degree_text(geometry::degrees(-*finding.margin)) + ".",
                            {},
                            std::nullopt};
    }
}

/// The flange as it is drawn off the mould that was decided.
void judge_drawn(Finding& finding, const Job& job, const Piece& piece, const Loft& line) {
    finding.unit = Unit::deg;
    finding.formula =
        "asin(n · p) >= draft needed; n: the flange's unit normal; p: the draw direction, see the part's draft";
    finding.source = "thermopro.com, Design guidelines: 3 degrees at least on a male mould, 2 in a female one";
    const DrawPlan plan = draw_plan(job, piece, line);
    const auto flange = std::find_if(plan.strips.begin(), plan.strips.end(), [](const StripDraft& strip) {
        return strip.from == k_flange_root && strip.to == k_flange_end;
    });
    if (flange == plan.strips.end()) {
        finding.why = "The flange has no length anywhere.";
        finding.missing = {"a flange with a length"};
        return;
    }
    finding.found = in_deg(flange->least);
    finding.required = in_deg(*plan.needed);
    finding.margin = *finding.found - *finding.required;
    finding.state = state_of(finding.margin, k_close_draft_deg, {});
    finding.inputs = {{"tilt of the draw direction", degree_text(plan.tilt)}};
    put_place(finding, job, flange->along);
    finding.why = "Formed with the part, the flange has a draft of " + degree_text(flange->least) + ".";
    if (finding.state == State::falls_short) {
        finding.why = "Formed with the part, the flange has a draft of only " + degree_text(flange->least) +
                      ": it does not leave the mould.";
        finding.mend = Mend{"Form it flat and bend it after, or tilt the draw direction down by " +
                                degree_text(geometry::degrees(-*finding.margin)) + ".",
                            {},
                            std::nullopt};
    }
}

void list_missing(Finding& finding, const Piece& piece) {
    if (!piece.sheet) {
        finding.missing.push_back("the sheet thickness of " + piece.name);
    }
    if (!piece.flange.inner_radius) {
        finding.missing.emplace_back("the inner radius of the bend");
    }
    if (!piece.flange.neutral_fraction) {
        finding.missing.emplace_back("how far in the neutral line lies, as a part of the thickness");
    }
    if (!piece.flange.springback) {
        finding.missing.emplace_back("the springback of the bend");
    }
}

std::optional<Angle> turn_at(const FlangeFace& face, Length along) {
    const auto corner = face.bend(along);
    return corner && face.at(along) ? std::optional{radians(2.0 * std::atan(corner->tan_half))} : std::nullopt;
}

/// Of the sheet where it is bent: as formed at the root, where that is computed and nothing was measured.
Thickness bent_thickness(const Piece& piece, const Loft& line, const PieceModel* model, Length along) {
    Thickness bent = *flange_thickness(piece, along, model);
    if (bent.computed) {
        const auto root = std::find(line.names().begin(), line.names().end(), k_flange_root) - line.names().begin();
        bent.thickness = model->formed->thickness_at(along, static_cast<double>(root));
    }
    return bent;
}

void put_bend(Finding& finding, const Piece& piece, const FlangeFace& face, const At& bend, const Thickness& bent) {
    const BendNumbers numbers = bend_numbers(bend.angle, piece.flange.inner_radius->value, bent.thickness,
                                             *piece.flange.neutral_fraction, *piece.flange.springback);
    const Length straight = millimetres(face.at(bend.along)->length_mm - *face.flat_from_mm(bend.along));
    finding.inputs = {{"bend angle", degree_text(bend.angle)},
                      {"inner radius", mm_text(piece.flange.inner_radius->value)},
                      {bent.of_sheet ? "sheet" : "sheet as formed, at the bend", mm_text(bent.thickness)},
                      {"neutral line, part of the thickness from inside", number_text(*piece.flange.neutral_fraction)},
                      {"springback", degree_text(*piece.flange.springback)},
                      {"bend allowance", mm_text(numbers.allowance)},
                      {"setback", mm_text(numbers.setback)},
                      {"straight of the flange", mm_text(straight)},
                      {"flat length, bend and straight", mm_text(numbers.allowance + straight)},
                      {"bend to", degree_text(numbers.bend_to)}};
    finding.state = State::holds;
    finding.why = "Bent after: the bend takes " + mm_text(numbers.allowance) + " of flat sheet; bend to " +
                  degree_text(numbers.bend_to) + " for " + degree_text(bend.angle) + ".";
}

void list_bend(Finding& finding, const Job& job, const Piece& piece, const Loft& line, const PieceModel* model) {
    finding.formula = "allowance = angle · (R + K t); setback = (R + t) · tan(angle/2); bend to angle + springback";
    finding.source = k_bend_source;
    list_missing(finding, piece);
    const auto face = FlangeFace::of(piece, line);
    if (!face || !finding.missing.empty()) {
        finding.why = "The bend cannot be set out yet.";
        return;
    }
    const auto greatest = extreme(line, false, [&](Length along) { return turn_at(*face, along); });
    if (!greatest) {
        finding.why = "The flange has no length anywhere.";
        finding.missing = {"a flange with a length"};
        return;
    }
    put_place(finding, job, greatest->along);
    put_bend(finding, piece, *face, *greatest, bent_thickness(piece, line, model, greatest->along));
}

}  // namespace

Finding flange_finding(const Job& job, const Piece& piece, const Loft& line, const PieceModel* model) {
    Finding finding;
    finding.id = "sections/" + piece.name + "/flange";
    finding.title = piece.name + ", making the flange";
    finding.stage = Stage::sections;
    finding.unit = Unit::none;
    if (piece.flange.making == FlangeMaking::formed_with_part) {
        if (job.forming.mould) {
            judge_drawn(finding, job, piece, line);
        } else {
            judge_draft(finding, job, line);
        }
    } else {
        list_bend(finding, job, piece, line, model);
    }
    return finding;
}

}  // namespace sillwright::core
