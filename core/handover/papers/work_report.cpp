#include "core/handover/papers/work_report.h"

#include <algorithm>
#include <map>
#include <utility>

#include "core/finding_words.h"
#include "core/forming/forming_plan.h"
#include "core/handover/papers/open_points.h"
#include "core/handover/papers/paper.h"
#include "core/number_text.h"
#include "core/stage.h"

namespace sillwright::core {

namespace {

Grid counts_grid(const std::vector<Finding>& findings) {
    Grid grid{{"stage", "falls short", "close", "holds", "not measured", "all"}, {}, {}};
    const auto row = [&](const std::string& name, const StateCounts& counts) {
        grid.rows.push_back({name, std::to_string(counts.falls_short), std::to_string(counts.close),
                             std::to_string(counts.holds), std::to_string(counts.not_measured),
                             std::to_string(counts.all())});
    };
    for (const Stage stage : k_stages) {
        row(words(stage).name, count_states(findings, stage));
    }
    row("all stages", count_states(findings));
    return grid;
}

void add_stage(Document& paper, const std::vector<Finding>& sorted, Stage stage) {
    Grid grid{{"finding", "stands", "found", "needs", "margin", "where", "why, and what would mend it"}, {}, {}};
    for (const Finding& finding : sorted) {
        if (finding.stage == stage) {
            const FindingCells cells = cells_of(finding);
            grid.rows.push_back({finding.title, look(finding.state).word, cells.found, cells.needs, cells.margin,
                                 finding.place.words, told(finding)});
        }
    }
    if (!grid.rows.empty()) {
        add_heading(paper, words(stage).name);
    }
    add_grid(paper, std::move(grid));
}

void add_open(Document& paper, const Evaluation& evaluation) {
    std::vector<std::string> assumed;
    std::vector<std::string> missing;
    for (const OpenPoint& point : open_points(evaluation)) {
        (point.assumed ? assumed : missing).push_back(point.words);
    }
    add_heading(paper, "Assumed, still open");
    add_words(paper, assumed.empty() ? "Nothing is assumed that the program knows of." : "");
    add_items(paper, std::move(assumed));
    add_heading(paper, "Not measured");
    add_words(paper, missing.empty() ? "Nothing that a check waits for." : "");
    add_items(paper, std::move(missing));
}

/// What is bought, as far as it is known. The price is in the shop's own money.
void add_material(Document& paper, const Evaluation& evaluation, const BuckWork& work) {
    const Job& job = evaluation.job;
    Grid grid{{"what", "how much", "price"}, {}, {}};
    const auto price = [](const std::optional<double>& value) {
        return value ? fixed_text(*value, 2) : std::string("not entered");
    };
    if (evaluation.forming != nullptr) {
        for (const PieceForming& forming : evaluation.forming->pieces) {
            const Blank& blank = forming.blank;
            if (blank.missing.empty() && blank.length > geometry::Length{}) {
                grid.rows.push_back({"sheet for " + job.skirt.pieces[forming.piece].name +
                                         (job.skirt.material.name.empty() ? "" : ", " + job.skirt.material.name),
                                     cell(blank.length, 0) + " × " + cell(blank.width, 0) + " × " +
                                         cell(blank.thickness) + " mm" +
                                         (blank.stock.empty() ? "" : ", of stock " + blank.stock),
                                     price(blank.price_per_part)});
            }
        }
    }
    std::map<std::string, std::size_t> sheets;
    for (const NestedSheet& sheet : work.nesting.sheets) {
        ++sheets[sheet.board];
    }
    for (const auto& [name, count] : sheets) {
        const auto board = std::find_if(job.buck.boards.begin(), job.buck.boards.end(),
                                        [&, &wanted = name](const Board& one) { return one.name == wanted; });
        const bool priced = board != job.buck.boards.end() && board->price;
        grid.rows.push_back({"board " + name, count_text(count, "sheet", "sheets"),
                             price(priced ? std::optional(*board->price * static_cast<double>(count)) : std::nullopt)});
    }
    if (!grid.rows.empty()) {
        add_heading(paper, "Sheets and boards");
        add_words(paper, "Prices are in the shop's own money, as entered. Hours are not computed.");
    }
    add_grid(paper, std::move(grid));
}

}  // namespace

Document work_report(const Evaluation& evaluation, const BuckWork& work) {
    Document paper = begun(evaluation, {"work_report",
                                        "Report",
                                        "for the shop, to be signed",
                                        {Caution::lifted_vehicle, Caution::near_the_sill, Caution::workshop,
                                         Caution::road_rules, Caution::no_proof},
                                        {}});
    paper.lying = true;
    add_words(paper, count_sentence(evaluation.findings), true);
    add_grid(paper, counts_grid(evaluation.findings));
    const auto sorted = worst_first(evaluation.findings);
    for (const Stage stage : k_stages) {
        add_stage(paper, sorted, stage);
    }
    add_open(paper, evaluation);
    add_material(paper, evaluation, work);
    add_boxes(paper,
              {"Checked by", "Date", "What falls short is accepted by, and why", "Released for making by", "Date"});
    return paper;
}

}  // namespace sillwright::core
