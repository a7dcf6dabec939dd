#include "core/handover/papers/forming_parts.h"

#include "core/handover/papers/paper.h"

namespace sillwright::core {

namespace {

/// The plan with this piece alone, without what has sheets of its own.
FormingPlan alone(const FormingPlan& plan, PieceForming piece, bool with_lanes) {
    piece.ladders.clear();
    piece.ticks.lines.clear();
    if (!with_lanes) {
        piece.lanes.clear();
    }
    FormingPlan only;
    only.chain = plan.chain;
    only.pieces.push_back(std::move(piece));
    return only;
}

}  // namespace

std::vector<SheetPart> chain_parts(const Job& job, const FormingPlan& plan) {
    FormingPlan only;
    only.chain = plan.chain;
    return forming_sheet(job, only);
}

std::vector<SheetPart> moulder_parts(const Job& job, const FormingPlan& plan, const PieceForming& piece) {
    FormingPlan only = alone(plan, piece, false);
    only.chain.clear();
    return forming_sheet(job, only);
}

std::vector<SheetPart> flute_parts(const Job& job, const FormingPlan& plan, const PieceForming& piece) {
    // Flutes stand behind what a piece has without them, and before the chain.
    const auto first = static_cast<std::ptrdiff_t>(moulder_parts(job, plan, piece).size());
    const auto all = forming_sheet(job, alone(plan, piece, true));
    return {all.begin() + first, all.begin() + first + static_cast<std::ptrdiff_t>(piece.lanes.size())};
}

void add_part(Document& paper, const SheetPart& part) {
    add_heading(paper, part.title);
    add_values(paper, part.lines);
    add_items(paper, part.notes);
}

}  // namespace sillwright::core
