#include "core/handover/papers/flute_sheet.h"

#include <algorithm>
#include <utility>

#include "core/finding_words.h"
#include "core/forming/forming_plan.h"
#include "core/handover/papers/forming_parts.h"
#include "core/handover/papers/paper.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::Length;

namespace {

constexpr double k_mm_per_m = 1000.0;

std::string maybe(const std::optional<Length>& length, const char* none) {
    return length ? cell(*length) : std::string(none);
}

std::string end_words(Length along, bool opens, const std::optional<Length>& room) {
    if (opens) {
        return "goes through";
    }
    return cell(along, 0) + (room ? ", " + cell(*room) + " to the shelf's end" : "");
}

Grid lanes_grid(const std::vector<FluteLane>& lanes) {
    Grid grid{{"name", "bit", "seen on the part, mm", "on the mould, mm", "bit cuts, mm", "depth, mm", "passes",
               "wood left, mm", "front end, along, mm", "rear end, along, mm", "land inward, mm"},
              {},
              {}};
    for (const FluteLane& lane : lanes) {
        grid.rows.push_back({lane.name, lane.bit.empty() ? "none fits" : lane.bit, cell(lane.part_width),
                             cell(lane.mould_width), lane.bit.empty() ? "" : cell(lane.bit_width), cell(lane.depth),
                             std::to_string(lane.passes), maybe(lane.wood_left, "not known"),
                             end_words(lane.front, lane.opens_front, lane.front_room),
                             end_words(lane.rear, lane.opens_rear, lane.rear_room), maybe(lane.land, "none")});
    }
    return grid;
}

double mean_offset_mm(const FluteLane& lane) {
    double sum = 0.0;
    for (const LaneRow& row : lane.rows) {
        sum += geometry::in_mm(row.edge_offset);
    }
    return lane.rows.empty() ? 0.0 : sum / static_cast<double>(lane.rows.size());
}

/// From the edge inward, so that the fence is moved one way only.
std::vector<std::string> order_of(std::vector<FluteLane> lanes) {
    std::stable_sort(lanes.begin(), lanes.end(), [](const FluteLane& a, const FluteLane& b) {
        return a.recess != b.recess ? b.recess : mean_offset_mm(a) < mean_offset_mm(b);
    });
    std::vector<std::string> order;
    for (const FluteLane& lane : lanes) {
        std::string words = (lane.recess ? "Recess " : "Flute ") + lane.name;
        if (!lane.bit.empty()) {
            words += ", bit " + lane.bit;
        }
        words += ", " + count_text(static_cast<std::size_t>(std::max(lane.passes, 1)), "pass", "passes");
        if (!lane.recess && lane.fence_straight) {
            words += ", straight fence";
        } else if (!lane.recess) {
            words += ", batten as the fence";
            words += lane.batten
                         ? " (to a radius of " + fixed_text(geometry::in_mm(*lane.batten) / k_mm_per_m, 1) + " m)"
                         : "";
        }
        order.push_back(words + ".");
    }
    return order;
}

void add_fouls(Document& paper, const Evaluation& evaluation, const Piece& piece) {
    std::vector<std::string> fouls;
    std::size_t looked_at = 0;
    for (const Finding& finding : evaluation.findings) {
        const std::string lead = "forming/" + piece.name + "/";
        if (!finding.id.starts_with(lead + "flute/") && !finding.id.starts_with(lead + "recess/")) {
            continue;
        }
        ++looked_at;
        if (finding.state != State::holds) {
            fouls.push_back(finding.title + " (" + look(finding.state).word + "): " + told(finding));
        }
    }
    add_heading(paper, "What fouls, or is not known");
    if (fouls.empty()) {
        add_words(paper, "Nothing: " + count_text(looked_at, "check", "checks") +
                             " of bits, wood, base plate, bearing, lands and run-outs, all hold.");
    }
    add_items(paper, std::move(fouls));
}

void add_piece(Document& paper, const Evaluation& evaluation, const PieceForming& forming) {
    const Job& job = evaluation.job;
    const Piece& piece = job.skirt.pieces[forming.piece];
    add_heading(paper, "Flutes of " + piece.name);
    Figure figure;
    figure.kind = FigureKind::flutes;
    figure.piece = forming.piece;
    figure.caption = "The lanes on the shelf";
    figure.height_share = 0.3;
    paper.blocks.emplace_back(std::move(figure));
    add_grid(paper, lanes_grid(forming.lanes));
    add_words(paper,
              "Widths and places in this table are at the part's size. The lines below are at the plug's size, "
              "where that is known: cut by those.");
    const Router& router = job.forming.router;
    add_values(paper, {{"base plate, radius", measured_text(router.base_radius)},
                       {"board below the shelf", measured_text(router.board)},
                       {"one pass, at most, of the bit's radius", fixed_text(100.0 * router.pass_share, 0) + " %"}});
    add_heading(paper, "Order of cuts");
    add_items(paper, order_of(forming.lanes), true);
    for (const SheetPart& part : flute_parts(job, *evaluation.forming, forming)) {
        add_part(paper, part);
    }
    add_fouls(paper, evaluation, piece);
}

}  // namespace

std::optional<Document> flute_sheet(const Evaluation& evaluation) {
    if (evaluation.forming == nullptr) {
        return std::nullopt;
    }
    Document paper =
        begun(evaluation, {"flute_sheet", "Flutes", "for who routes the plug", {Caution::workshop}, {Stage::forming}});
    paper.lying = true;
    bool any = false;
    for (const PieceForming& forming : evaluation.forming->pieces) {
        if (!forming.lanes.empty()) {
            any = true;
            add_piece(paper, evaluation, forming);
        }
    }
    return any ? std::optional(std::move(paper)) : std::nullopt;
}

}  // namespace sillwright::core
