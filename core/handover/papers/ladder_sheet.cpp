#include "core/handover/papers/ladder_sheet.h"

#include <algorithm>
#include <utility>

#include "core/forming/forming_plan.h"
#include "core/handover/papers/forming_parts.h"
#include "core/handover/papers/paper.h"

namespace sillwright::core {

namespace {

/// Names of the steps, in the order of the ladder that has most of them.
std::vector<std::string> steps_of(const std::vector<LadderOf>& ladders) {
    const auto longest = std::max_element(ladders.begin(), ladders.end(), [](const LadderOf& a, const LadderOf& b) {
        return a.rungs.size() < b.rungs.size();
    });
    std::vector<std::string> steps;
    if (longest != ladders.end()) {
        for (const Rung& rung : longest->rungs) {
            steps.push_back(rung.generation);
        }
    }
    return steps;
}

std::string rung_cell(const Rung* rung) {
    if (rung == nullptr) {
        return "not known";
    }
    std::string text = cell(rung->value, 2) + " ± " + cell(2.0 * rung->sd, 2);
    if (rung->measured) {
        text += ", measured " + cell(*rung->measured, 2);
    }
    return text;
}

Grid ladder_grid(const std::vector<LadderOf>& ladders) {
    const auto steps = steps_of(ladders);
    Grid grid{{"dimension, mm"}, {}, {}};
    grid.columns.insert(grid.columns.end(), steps.begin(), steps.end());
    for (const LadderOf& ladder : ladders) {
        std::vector<std::string> row{ladder.dimension.name};
        for (const std::string& step : steps) {
            row.push_back(rung_cell(ladder.find(step)));
        }
        grid.rows.push_back(std::move(row));
    }
    return grid;
}

Grid ticks_grid(const ScribeTicks& ticks) {
    Grid grid{{"ticks", "on", "expected, mm", "limit, mm", "measured, mm"}, {}, {4}};
    for (const TickLine& line : ticks.lines) {
        for (const TickSize& size : line.sizes) {
            grid.rows.push_back({line.name, size.generation, cell(size.expected, 2), "± " + cell(size.limit, 2),
                                 size.measured ? cell(*size.measured, 2) : ""});
        }
    }
    return grid;
}

void add_lacking(Document& paper, const std::vector<LadderOf>& ladders, const ScribeTicks& ticks) {
    std::vector<std::string> lacking;
    const auto add = [&](const std::vector<std::string>& missing) {
        for (const std::string& one : missing) {
            const std::string words = "Not decided or measured yet: " + one + ".";
            if (std::find(lacking.begin(), lacking.end(), words) == lacking.end()) {
                lacking.push_back(words);
            }
        }
    };
    for (const LadderOf& ladder : ladders) {
        add(ladder.missing);
    }
    add(ticks.missing);
    add_items(paper, std::move(lacking));
}

void add_piece(Document& paper, const Evaluation& evaluation, const PieceForming& forming) {
    add_heading(paper, "Ladder of " + evaluation.job.skirt.pieces[forming.piece].name);
    if (!forming.ladders.empty()) {
        Figure figure;
        figure.kind = FigureKind::ladder;
        figure.piece = forming.piece;
        figure.caption = "From the finished part down to the buck";
        figure.height_share = 0.35;
        paper.blocks.emplace_back(std::move(figure));
        add_words(
            paper,
            "What each must measure for the part to come out right; ± is two standard deviations. A radius of zero "
            "or less: the corner is sharp there.");
        add_grid(paper, ladder_grid(forming.ladders));
    }
    add_lacking(paper, forming.ladders, forming.ticks);
    if (!forming.ticks.lines.empty()) {
        add_heading(paper, "Ticks to scribe on the plug");
        add_words(paper,
                  "Scribe them on the plug, and measure them again on each mould, cold, two days after it is out. "
                  "Write what is measured into the job: it goes before every assumed shrinkage.");
        add_grid(paper, ticks_grid(forming.ticks));
    }
}

}  // namespace

std::optional<Document> ladder_sheet(const Evaluation& evaluation) {
    if (evaluation.forming == nullptr || evaluation.forming->chain.empty() || evaluation.forming->pieces.empty()) {
        return std::nullopt;
    }
    Document paper = begun(evaluation, {"ladder_sheet",
                                        "Ladder of sizes",
                                        "for who makes plug and moulds",
                                        {Caution::workshop, Caution::no_proof},
                                        {Stage::forming, Stage::buck}});
    paper.lying = true;
    for (const PieceForming& forming : evaluation.forming->pieces) {
        add_piece(paper, evaluation, forming);
    }
    for (const SheetPart& part : chain_parts(evaluation.job, *evaluation.forming)) {
        add_part(paper, part);
    }
    for (const PieceForming& forming : evaluation.forming->pieces) {
        const std::string& name = evaluation.job.skirt.pieces[forming.piece].name;
        if (const Finding* slots = find_finding(evaluation.findings, "forming/" + name + "/slots")) {
            add_heading(paper, "Holes of " + name + " with the moulds as they came out");
            add_words(paper, told(*slots));
        }
    }
    return paper;
}

}  // namespace sillwright::core
