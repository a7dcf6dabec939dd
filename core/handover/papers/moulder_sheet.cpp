#include "core/handover/papers/moulder_sheet.h"

#include <utility>

#include "core/forming/forming_plan.h"
#include "core/handover/papers/forming_parts.h"
#include "core/handover/papers/paper.h"

namespace sillwright::core {

namespace {

void add_figure(Document& paper, FigureKind kind, std::size_t piece, std::string caption) {
    Figure figure;
    figure.kind = kind;
    figure.piece = piece;
    figure.caption = std::move(caption);
    figure.height_share = 0.3;
    paper.blocks.emplace_back(std::move(figure));
}

}  // namespace

std::optional<Document> moulder_sheet(const Evaluation& evaluation) {
    if (evaluation.forming == nullptr || evaluation.forming->pieces.empty()) {
        return std::nullopt;
    }
    const Job& job = evaluation.job;
    Document paper = begun(
        evaluation,
        {"moulder_sheet", "Forming", "for the moulder", {Caution::workshop, Caution::no_proof}, {Stage::forming}});
    for (const PieceForming& forming : evaluation.forming->pieces) {
        const std::string& name = job.skirt.pieces[forming.piece].name;
        if (evaluation.forming->pieces.size() > 1) {
            add_heading(paper, name);
        }
        if (!forming.platen.part_mm.empty()) {
            add_figure(paper, FigureKind::platen, forming.piece, name + " on the machine");
        }
        for (const SheetPart& part : moulder_parts(job, *evaluation.forming, forming)) {
            add_part(paper, part);
        }
        if (evaluation.car.pieces[forming.piece].formed) {
            add_figure(paper, FigureKind::thickness, forming.piece, name + ", thickness as formed");
        }
    }
    return paper;
}

}  // namespace sillwright::core
