#include "core/handover/papers/paint_note.h"

#include <algorithm>
#include <utility>

#include "core/handover/papers/hole_words.h"
#include "core/handover/papers/paper.h"
#include "core/material.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_celsius;
using geometry::in_mm;

namespace {

bool is_abs(const std::string& material) {
    return material.starts_with("ABS");
}

/// How much longer the longest piece is in the oven.
std::optional<double> growth_mm(const Evaluation& evaluation) {
    const auto expansion = numbers_of(evaluation.job.skirt.material).expansion_per_k;
    double longest = 0.0;
    for (const PieceModel& piece : evaluation.car.pieces) {
        if (piece.line) {
            longest = std::max(longest, in_mm(piece.line->rear() - piece.line->front()));
        }
    }
    if (!expansion || longest == 0.0) {
        return std::nullopt;
    }
    return longest * *expansion * (in_celsius(k_abs_bake_most) - in_celsius(evaluation.job.fitting.drawn));
}

std::vector<std::string> masked(const Job& job) {
    std::vector<std::string> faces{
        "Mask the inside of the flange, where it lies on its seats: film there lifts the part and takes from the "
        "fasteners' grip.",
        "Mask the edges of all holes and slots, or clear them after: slots must slide."};
    for (const Piece& piece : job.skirt.pieces) {
        if (piece.top_edge == TopEdgeFixing::tape) {
            faces.push_back("Mask the inside of the top return of " + piece.name +
                            " where the tape goes: tape holds on what its maker names, not on overspray.");
        }
        if (!piece.flutes.empty()) {
            faces.push_back(
                "Film gathers at the edges of flutes: spray across them thin, and look along them before the "
                "next coat.");
        }
    }
    faces.emplace_back("The inside stays bare.");
    return faces;
}

std::vector<Input> film_lines(const Evaluation& evaluation) {
    const Job& job = evaluation.job;
    std::vector<Input> lines{{"material", job.skirt.material.name.empty() ? "not decided" : job.skirt.material.name},
                             {"film on the outside", measured_text(job.skirt.paint, 2)}};
    const Finding* tightest = nullptr;
    for (const Finding& finding : evaluation.findings) {
        if (finding.stage == Stage::swing && finding.margin &&
            (tightest == nullptr || *finding.margin < *tightest->margin)) {
            tightest = &finding;
        }
    }
    if (tightest != nullptr) {
        lines.push_back({"left of the tightest gap to a door, with this film", cells_of(*tightest).margin});
    }
    return lines;
}

std::string bake_words(const Evaluation& evaluation) {
    const std::string& material = evaluation.job.skirt.material.name;
    if (!is_abs(material)) {
        return (material.empty() ? std::string("The material is not decided")
                                 : "How hot " + material + " may be baked is not in the table") +
               ": ask the sheet's maker, and keep to that.";
    }
    std::string words =
        "Bake no hotter than " + fixed_text(in_celsius(k_abs_bake_most), 0) +
        " °C in the part itself (common practice for ABS, no source; the sheet's maker goes before it).";
    if (const auto growth = growth_mm(evaluation)) {
        words += " There it is " + cell_mm(*growth) + " mm longer: let one end hang free.";
    }
    return words;
}

/// The first and the last hole of each piece.
std::vector<std::string> hanging(const Evaluation& evaluation) {
    std::vector<std::string> words;
    for (std::size_t i = 0; i < evaluation.job.skirt.pieces.size(); ++i) {
        std::vector<const HolePlan*> holes;
        for (const HolePlan& hole : evaluation.plan.holes) {
            if (hole.piece == i) {
                holes.push_back(&hole);
            }
        }
        if (holes.size() < 2) {
            continue;
        }
        const double apart = holes.back()->landing.p_mm.x() - holes.front()->landing.p_mm.x();
        words.push_back(evaluation.job.skirt.pieces[i].name + ": hang it by its flange from " + holes.front()->mount +
                        " (" + size_words(made_hole(*holes.front()).size) + " mm) and " + holes.back()->mount + " (" +
                        size_words(made_hole(*holes.back()).size) + " mm), " + cell_mm(apart, 0) +
                        " mm apart. Hooks no wider than the holes, one of them free to slide.");
    }
    return words;
}

}  // namespace

std::optional<Document> paint_note(const Evaluation& evaluation) {
    const Job& job = evaluation.job;
    const bool bare = job.skirt.paint && in_mm(job.skirt.paint->value) == 0.0;
    const bool drawn = std::any_of(evaluation.car.pieces.begin(), evaluation.car.pieces.end(),
                                   [](const PieceModel& piece) { return piece.line || piece.body; });
    if (bare || !drawn) {
        return std::nullopt;
    }
    Document paper =
        begun(evaluation, {"paint_note", "Paint", "for the painter", {Caution::workshop}, {Stage::sections}});
    add_heading(paper, "Film");
    add_values(paper, film_lines(evaluation));
    add_words(paper,
              "The film is counted in the gaps to the doors and in what the fasteners grip. Each millimetre of it "
              "more is a millimetre of gap less.");
    add_heading(paper, "Masked");
    add_items(paper, masked(job));
    add_heading(paper, "Oven");
    add_words(paper, bake_words(evaluation));
    const auto hung = hanging(evaluation);
    if (!hung.empty()) {
        add_heading(paper, "Hanging");
    }
    add_items(paper, hung);
    add_boxes(paper, {"Film measured, mm", "Hottest in the oven, °C", "Painted by", "Date"});
    return paper;
}

}  // namespace sillwright::core
