#include "core/handover/papers/fitting_sheet.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <set>
#include <utility>

#include "core/drawn_loft.h"
#include "core/finding_words.h"
#include "core/handover/papers/fitting_order.h"
#include "core/handover/papers/hole_words.h"
#include "core/handover/papers/paper.h"
#include "core/mounts/fastener_findings.h"
#include "core/mounts/mount_finding.h"
#include "core/number_text.h"
#include "core/road/end_gap.h"
#include "core/swing/swing_check.h"

namespace sillwright::core {

using geometry::celsius;
using geometry::in_celsius;
using geometry::in_mm;
using geometry::millimetres;

namespace {

constexpr double k_temperature_step = 5.0;
/// Card comes in halves of a millimetre.
constexpr double k_card_step_mm = 0.5;

std::vector<std::size_t> pieces_of(const MountPlan& plan) {
    std::set<std::size_t> pieces;
    for (const HolePlan& hole : plan.holes) {
        pieces.insert(hole.piece);
    }
    return {pieces.begin(), pieces.end()};
}

std::string box_words(const Evaluation& evaluation, std::size_t pieces) {
    std::string words = "In the box: " + count_text(pieces, "part", "parts");
    for (const FastenerCount& count : fastener_counts(evaluation.job)) {
        words += "; " + std::to_string(count.used + count.spares) + " " + count.name + " (" +
                 count_text(count.spares, "spare", "spares") + " among them)";
    }
    return words + ".";
}

bool has_kind(const Evaluation& evaluation, bool clips) {
    return std::any_of(evaluation.plan.holes.begin(), evaluation.plan.holes.end(), [&](const HolePlan& hole) {
        const Mount* const mount = find_mount(evaluation.job, hole.mount);
        return mount != nullptr && (mount->fastener.kind == FastenerKind::clip) == clips;
    });
}

std::string tool_words(const Evaluation& evaluation) {
    std::vector<std::string> tools;
    if (has_kind(evaluation, true)) {
        tools.emplace_back("plastic trim lever");
    }
    if (has_kind(evaluation, false)) {
        tools.emplace_back("screwdriver, torque driver");
    }
    for (const Piece& piece : evaluation.job.skirt.pieces) {
        if (piece.top_edge == TopEdgeFixing::tape) {
            tools.emplace_back("cleaner and primer of the tape's maker");
            break;
        }
    }
    if (!card_tests(evaluation).empty()) {
        tools.emplace_back("card strips as below");
    }
    tools.emplace_back("rule");
    tools.emplace_back("thermometer");
    return "Tools: " + joined(tools, ", ") + ".";
}

void add_pictures(Document& paper, const Evaluation& evaluation, const std::vector<std::size_t>& pieces) {
    for (const std::size_t piece : pieces) {
        auto drawing = order_picture(evaluation.job, evaluation.car, evaluation.plan, piece);
        if (drawing.entities.empty()) {
            continue;
        }
        Figure figure;
        figure.kind = FigureKind::drawing;
        figure.piece = piece;
        figure.caption = evaluation.job.skirt.pieces[piece].name + ", " + side_words(evaluation.job) +
                         ", its flange from below: fasten in the order of the numbers";
        figure.drawing = std::make_shared<const geometry::Drawing>(std::move(drawing));
        figure.height_share = 0.12;
        paper.blocks.emplace_back(std::move(figure));
    }
    const Finding* tightest = nullptr;
    for (const Finding& finding : evaluation.findings) {
        if (finding.stage == Stage::swing && finding.place.along && finding.margin &&
            (tightest == nullptr || *finding.margin < *tightest->margin)) {
            tightest = &finding;
        }
    }
    if (tightest != nullptr) {
        Figure figure;
        figure.kind = FigureKind::section;
        figure.along = *tightest->place.along;
        figure.caption = "Section where a door comes nearest: " + tightest->title + ", " + tightest->place.words;
        figure.height_share = 0.2;
        paper.blocks.emplace_back(std::move(figure));
    }
}

std::string torque_words(const Evaluation& evaluation) {
    if (!has_kind(evaluation, false)) {
        return "Clips: press until they seat, no further. Nothing here is tightened by torque.";
    }
    return "No torque is entered in the job: take that of the fastener's maker, and stop before the flange is "
           "squeezed.";
}

std::vector<std::string> steps_of(const Evaluation& evaluation, const std::vector<std::size_t>& pieces) {
    const Job& job = evaluation.job;
    std::vector<std::string> steps{
        "Wait until part and car are between " + fixed_text(in_celsius(k_fit_coldest), 0) + " and " +
            fixed_text(in_celsius(k_fit_hottest), 0) + " °C. Do not fit colder or hotter.",
        "Take out the factory's clips and screws at these places, and keep them. Clean the seats."};
    for (const std::size_t piece : pieces) {
        const auto order = fitting_order(evaluation.plan, piece);
        const bool located =
            std::any_of(evaluation.plan.holes.begin(), evaluation.plan.holes.end(),
                        [&](const HolePlan& hole) { return hole.piece == piece && hole.role == HoleRole::locator; });
        std::string words = job.skirt.pieces[piece].name + ": ";
        words += located ? "hang it on " + order.front() + ", the locator, then outward by turns, none home yet: "
                         : "no locator is chosen; from the front, none home yet: ";
        steps.push_back(words + joined(order, ", ") + ".");
    }
    steps.emplace_back("Set the end gaps by the table. Open and shut every door slowly, with the card.");
    for (const std::size_t piece : pieces) {
        if (job.skirt.pieces[piece].top_edge == TopEdgeFixing::tape) {
            steps.push_back("Gaps and doors are right: press the taped top edge of " + job.skirt.pieces[piece].name +
                            " home.");
        }
    }
    steps.push_back("Fasten home in the same order. " + torque_words(evaluation));
    steps.emplace_back("After the first wash, or 200 km, look at every fastener and press or tighten it again.");
    for (const std::size_t piece : pieces) {
        const std::string& name = job.skirt.pieces[piece].name;
        if (find_finding(evaluation.findings, "mounts/" + name + "/step label") != nullptr) {
            steps.push_back("Stick the label NO STEP on the shelf of " + name + ": nobody may step on it.");
        }
    }
    return steps;
}

Grid fastener_grid(const Evaluation& evaluation, const std::vector<std::size_t>& pieces) {
    Grid grid{{"order", "hole", "in the body", "fastener", "part's hole, mm"}, {}, {}};
    for (const std::size_t piece : pieces) {
        const auto order = fitting_order(evaluation.plan, piece);
        for (std::size_t i = 0; i < order.size(); ++i) {
            const Mount* const mount = find_mount(evaluation.job, order[i]);
            const HolePlan* const hole = evaluation.plan.find(order[i]);
            if (mount != nullptr && hole != nullptr) {
                grid.rows.push_back({std::to_string(i + 1), order[i], body_words(*mount),
                                     fastener_words(mount->fastener),
                                     role_words(hole->role) + ", " + size_words(made_hole(*hole).size)});
            }
        }
    }
    return grid;
}

Grid gap_grid(const Evaluation& evaluation) {
    std::vector<geometry::Temperature> at;
    for (double c = in_celsius(k_fit_coldest); c <= in_celsius(k_fit_hottest); c += k_temperature_step) {
        at.push_back(celsius(c));
    }
    Grid grid{{"end gap, mm"}, {}, {}};
    for (const geometry::Temperature temperature : at) {
        grid.columns.push_back(fixed_text(in_celsius(temperature), 0) + " °C");
    }
    for (const PartEnd end : {PartEnd::front, PartEnd::rear}) {
        const auto table = end_gap_table(evaluation.job, evaluation.car, evaluation.plan, end, at);
        if (table.empty()) {
            continue;
        }
        std::vector<std::string> row{end == PartEnd::front ? "front end" : "rear end"};
        for (const GapAtTemperature& gap : table) {
            row.push_back(cell_mm(gap.mm));
        }
        grid.rows.push_back(std::move(row));
    }
    return grid;
}

Grid card_grid(const Evaluation& evaluation) {
    Grid grid{{"card test", "open by", "where", "card passes, mm"}, {}, {}};
    for (const CardTest& test : card_tests(evaluation)) {
        grid.rows.push_back({test.door + ", " + test.what, degree_text(test.opening, 1), test.where, cell(test.card)});
    }
    return grid;
}

std::string keep_out_words(const Job& job) {
    if (job.keep_outs.empty()) {
        return "DO NOT DRILL anywhere. What must stay free was not entered: ask before anything is drilled.";
    }
    std::vector<std::string> names;
    for (const KeepOut& keep_out : job.keep_outs) {
        names.push_back(keep_out.name + " (" + mm_text(keep_out.from.along.value, 0) + " to " +
                        mm_text(keep_out.to.along.value, 0) + " along)");
    }
    return "DO NOT DRILL, and keep free: " + joined(names, "; ") + ". All holes are there already: no new ones.";
}

std::string edge_words(const Evaluation& evaluation) {
    const auto falls =
        std::count_if(evaluation.findings.begin(), evaluation.findings.end(), [](const Finding& finding) {
            return finding.id.starts_with("mounts/road/edge ") && finding.state == State::falls_short;
        });
    std::string words = "Outside edges: no sharp ends, a radius of 2.5 mm or more, lamps and indicators untouched.";
    if (falls > 0) {
        words += " " + count_text(static_cast<std::size_t>(falls), "edge falls", "edges fall") + " short of it.";
    }
    return words + " Have the car looked at where that is asked: local rules and inspection decide.";
}

}  // namespace

std::vector<CardTest> card_tests(const Evaluation& evaluation) {
    std::vector<CardTest> tests;
    for (const SwingQuestion& question : swing_questions(evaluation.job, evaluation.car)) {
        const Finding* const finding = find_finding(evaluation.findings, question.id);
        const bool moving =
            std::find(question.cases.begin(), question.cases.end(), SwingCase::moving) != question.cases.end();
        if (!moving || finding == nullptr || !finding->found || !finding->place.along || !finding->place.door_angle ||
            *finding->found <= 0.0 || !finding->touching.empty()) {
            continue;
        }
        const double gap = std::min(in_mm(question.asked.value), *finding->found);
        const double card = std::floor(gap / k_card_step_mm) * k_card_step_mm;
        if (card <= 0.0) {
            continue;
        }
        const auto comma = finding->title.find(", ");
        tests.push_back({evaluation.car.doors[question.door].name,
                         comma == std::string::npos ? finding->title : finding->title.substr(comma + 2),
                         place_words(evaluation.job, *finding->place.along), *finding->place.door_angle,
                         millimetres(card)});
    }
    return tests;
}

std::optional<Document> fitting_sheet(const Evaluation& evaluation) {
    const auto pieces = pieces_of(evaluation.plan);
    if (pieces.empty()) {
        return std::nullopt;
    }
    Document paper = begun(evaluation, {"fitting_sheet",
                                        "Fitting sheet",
                                        "for the installer",
                                        {Caution::lifted_vehicle, Caution::near_the_sill, Caution::road_rules},
                                        {Stage::mounts}});
    paper.one_page = true;
    add_words(paper, box_words(evaluation, pieces.size()) + " " + tool_words(evaluation));
    add_pictures(paper, evaluation, pieces);
    add_items(paper, steps_of(evaluation, pieces), true);
    add_grid(paper, fastener_grid(evaluation, pieces));
    Grid gaps = gap_grid(evaluation);
    if (gaps.rows.empty()) {
        add_words(paper, "End gaps by temperature: not known, as a gap as drawn or an expansion is not measured.");
    }
    add_grid(paper, std::move(gaps));
    Grid cards = card_grid(evaluation);
    if (cards.rows.empty()) {
        add_words(
            paper,
            "Card test of the doors: not known, as no door's swing is measured. Shut every door by hand, slowly.");
    }
    add_grid(paper, std::move(cards));
    add_words(paper, keep_out_words(evaluation.job), true);
    add_words(paper, edge_words(evaluation));
    if (!evaluation.job.papers.call.empty()) {
        add_words(paper, "Questions: call " + evaluation.job.papers.call + ".", true);
    }
    std::vector<std::string> boxes{"Fitted by, and date", "Temperature, °C"};
    if (evaluation.job.papers.call.empty()) {
        boxes.insert(boxes.begin(), "Whom to call");
    }
    add_boxes(paper, std::move(boxes));
    return paper;
}

}  // namespace sillwright::core
