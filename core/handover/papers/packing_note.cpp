#include "core/handover/papers/packing_note.h"

#include <cmath>
#include <utility>

#include "core/finding_words.h"
#include "core/handover/packing.h"
#include "core/handover/papers/paper.h"
#include "core/mounts/fastener_findings.h"
#include "core/number_text.h"

namespace sillwright::core {

namespace {

/// A smaller turn is none: nobody sees it.
constexpr double k_seen_turn_deg = 0.5;

std::string size_text(const BoxSize& box) {
    return mm_text(box.length, 0) + " × " + mm_text(box.width, 0) + " × " + mm_text(box.height, 0);
}

std::string limit_text(const std::optional<Entry>& most) {
    return most ? mm_text(most->value, 0) : "not entered: ask the carrier";
}

Grid foam_grid(const Packing& packing) {
    Grid grid{{"foam", "pieces", "length, mm", "width, mm", "thickness, mm"}, {}, {}};
    for (const FoamPiece& foam : packing.foam) {
        grid.rows.push_back({foam.where, std::to_string(foam.count), cell(foam.length, 0), cell(foam.width, 0),
                             cell(foam.thickness, 0)});
    }
    return grid;
}

void add_piece(Document& paper, const Evaluation& evaluation, const Packing& packing) {
    const Job& job = evaluation.job;
    const std::string& name = job.skirt.pieces[packing.piece].name;
    add_heading(paper, "Box of " + name);
    add_values(paper, {{"part in its least box", size_text(packing.part)},
                       {"box, inside", size_text(packing.inner)},
                       {"box, outside", size_text(packing.outer)},
                       {"longest side", mm_text(packing.longest, 0)},
                       {"the carrier takes, longest side", limit_text(job.papers.longest)},
                       {"length and girth", mm_text(packing.length_and_girth, 0)},
                       {"the carrier takes, length and girth", limit_text(job.papers.girth_most)},
                       {"mass of the part", packing.part_kg
                                                ? fixed_text(*packing.part_kg, 2) + " kg, without box and fasteners"
                                                : "not known: the sheet's density is not given"},
                       {"mass that the box's size counts as", fixed_text(packing.volumetric_kg, 1) + " kg"}});
    for (const char* id : {"box", "box length"}) {
        if (const Finding* finding = find_finding(evaluation.findings, "handover/" + name + "/" + id)) {
            add_words(paper, finding->title + ", " + look(finding->state).word + ": " + told(*finding));
        }
    }
    add_grid(paper, foam_grid(packing));
    add_items(paper, {"Lay the part down " + turn_words(job.side, packing.turned) + ".",
                      "Film on the painted outside first, then foam.",
                      "The corners of the two ends are what is crushed on the way: never leave out the foam there.",
                      "Write on the box: " + side_words(job) + ", " + name +
                          (job.revision.empty() ? "" : ", revision " + job.revision) + "."});
}

void add_contents(Document& paper, const Job& job, std::size_t pieces) {
    Grid grid{{"in the box", "count", "packed"}, {}, {2}};
    grid.rows.push_back({pieces == 1 ? "part, " + side_words(job) : "parts, a box each, " + side_words(job),
                         std::to_string(pieces), ""});
    for (const FastenerCount& count : fastener_counts(job)) {
        grid.rows.push_back({count.name + ", " + count_text(count.spares, "spare", "spares") + " among them",
                             std::to_string(count.used + count.spares), ""});
    }
    grid.rows.push_back({"fitting sheet", "1", ""});
    add_heading(paper, "What goes in");
    add_grid(paper, std::move(grid));
    add_boxes(paper, {"Packed by", "Date", "Mass of the closed box, kg"});
}

}  // namespace

std::string turn_words(Side side, geometry::Angle turned) {
    const double degrees = geometry::in_deg(turned);
    if (std::abs(degrees) < k_seen_turn_deg) {
        return "as it stands on the car";
    }
    // Seen from in front of the car out is to the left on its right-hand side, and to the right on its left.
    const bool anticlockwise = (degrees > 0.0) == (side == Side::left);
    return "turned about its length by " + fixed_text(std::abs(degrees), 0) + "°, " +
           (anticlockwise ? "anticlockwise" : "clockwise") +
           " as seen from its front end, from how it stands on the car";
}

std::optional<Document> packing_note(const Evaluation& evaluation) {
    const auto packed = packing(evaluation.job, evaluation.car);
    if (packed.empty()) {
        return std::nullopt;
    }
    Document paper = begun(evaluation, {"packing_note", "Packing", "for who packs and sends", {}, {Stage::handover}});
    for (const Packing& one : packed) {
        add_piece(paper, evaluation, one);
    }
    add_contents(paper, evaluation.job, packed.size());
    return paper;
}

}  // namespace sillwright::core
