#include "core/handover/papers/hole_sheet.h"

#include <algorithm>
#include <utility>

#include "core/handover/papers/hole_words.h"
#include "core/handover/papers/paper.h"
#include "core/mounts/mount_finding.h"
#include "core/mounts/stack.h"
#include "core/number_text.h"

namespace sillwright::core {

namespace {

std::vector<const HolePlan*> holes_of(const MountPlan& plan, std::size_t piece) {
    std::vector<const HolePlan*> all;
    for (const HolePlan& hole : plan.holes) {
        if (hole.piece == piece) {
            all.push_back(&hole);
        }
    }
    return all;
}

Grid cut_grid(const std::vector<const HolePlan*>& holes, bool with_locator) {
    Grid grid{{"hole", "what it is", "along, mm", "out, mm"}, {}, {}};
    if (with_locator) {
        grid.columns.insert(grid.columns.end(), {"from the locator, mm", "across from it, mm"});
    }
    grid.columns.insert(grid.columns.end(),
                        {"cut, length × width, mm", "centre moved rearward, mm", "needed at least, mm"});
    for (const HolePlan* hole : holes) {
        const MadeHole made = made_hole(*hole);
        std::vector<std::string> row{hole->mount, role_words(hole->role), cell_mm(hole->landing.p_mm.x()),
                                     cell_mm(hole->landing.p_mm.y())};
        if (with_locator) {
            row.push_back(cell_mm(hole->from_locator_mm));
            row.push_back(cell_mm(hole->across_from_locator_mm));
        }
        row.insert(row.end(), {size_words(made.size), cell_mm(made.shift_mm),
                               cell_mm(hole->worst.length_mm) + " × " + cell_mm(hole->worst.width_mm)});
        grid.rows.push_back(std::move(row));
    }
    return grid;
}

std::string grip_text(const Fastener& fastener) {
    return fastener.grip_least && fastener.grip_most
               ? cell(fastener.grip_least->value) + " to " + cell(fastener.grip_most->value)
               : "not measured";
}

std::string stack_text(const Job& job, const Mount& mount, const Piece& piece, const PieceModel& model) {
    const Stack stack = stack_of(job, mount, piece, &model);
    return stack.missing.empty() ? cell(stack.thickness, 2) + " ± " + cell(stack.half_width, 2) : "not measured";
}

Grid fastener_grid(const Evaluation& evaluation, const std::vector<const HolePlan*>& holes) {
    Grid grid{{"hole", "in the body", "fastener", "how it is fixed", "grip, mm", "stack, mm", "to the edge, mm",
               "needs, mm", "to the bend, mm", "needs, mm"},
              {},
              {}};
    const auto number = [](const Finding* finding, bool found) {
        const auto value = finding == nullptr ? std::nullopt : found ? finding->found : finding->required;
        return value ? cell_mm(*value) : std::string("not measured");
    };
    for (const HolePlan* hole : holes) {
        const Mount* const mount = find_mount(evaluation.job, hole->mount);
        if (mount == nullptr) {
            continue;
        }
        const Finding* const edge = find_finding(evaluation.findings, "mounts/" + hole->mount + "/edge");
        const Finding* const bend = find_finding(evaluation.findings, "mounts/" + hole->mount + "/bend");
        grid.rows.push_back({hole->mount, body_words(*mount), fastener_words(mount->fastener),
                             fixing_words(mount->fastener), grip_text(mount->fastener),
                             stack_text(evaluation.job, *mount, evaluation.job.skirt.pieces[hole->piece],
                                        evaluation.car.pieces[hole->piece]),
                             number(edge, true), number(edge, false), number(bend, true), number(bend, false)});
    }
    return grid;
}

std::string locator_words(const std::vector<const HolePlan*>& holes) {
    const auto locator =
        std::find_if(holes.begin(), holes.end(), [](const HolePlan* hole) { return hole->role == HoleRole::locator; });
    if (locator == holes.end()) {
        return "No locator is chosen: nothing gives the part its place yet. Drill nothing from this sheet.";
    }
    std::string words = "Set out everything from " + (*locator)->mount +
                        ", the locator: drill it first, then measure along from it. Distances in front of it have a "
                        "minus sign.";
    if (holes.size() > 1) {
        const double length = holes.back()->landing.p_mm.x() - holes.front()->landing.p_mm.x();
        words += " Check: " + holes.front()->mount + " to " + holes.back()->mount + " is " + cell_mm(length) +
                 " mm along, before centres are moved.";
    }
    return words;
}

void add_piece(Document& paper, const Evaluation& evaluation, std::size_t number,
               const std::vector<const HolePlan*>& holes) {
    const Piece& piece = evaluation.job.skirt.pieces[number];
    add_heading(paper, "Flange of " + piece.name);
    Figure figure;
    figure.kind = FigureKind::flange;
    figure.piece = number;
    figure.caption = "The flange from below, " + side_words(evaluation.job);
    figure.height_share = 0.25;
    paper.blocks.emplace_back(std::move(figure));
    add_words(paper, locator_words(holes), true);
    const bool has_locator =
        std::any_of(holes.begin(), holes.end(), [](const HolePlan* hole) { return hole->role == HoleRole::locator; });
    add_grid(paper, cut_grid(holes, has_locator));
    const bool planned = std::any_of(holes.begin(), holes.end(), [](const HolePlan* hole) { return !hole->drawn; });
    add_words(paper,
              std::string("Lengths of slots run along the car. Along and out are where the mount's axis meets the "
                          "flange; move the centre from there as the table says.") +
                  (planned ? " Holes that the job has not are cut as planned." : ""));
    add_words(paper, "What goes through them, and what is left beside them:");
    add_grid(paper, fastener_grid(evaluation, holes));
    if (const Finding* flange = find_finding(evaluation.findings, "sections/" + piece.name + "/flange")) {
        const bool after = piece.flange.making == FlangeMaking::bent_after;
        add_words(paper, after ? "The flange is bent after forming." : "The flange is formed with the part.", true);
        add_words(paper, told(*flange));
        add_values(paper, flange->inputs);
    }
}

}  // namespace

std::optional<Document> hole_sheet(const Evaluation& evaluation) {
    if (evaluation.plan.holes.empty()) {
        return std::nullopt;
    }
    Document paper = begun(evaluation, {"hole_sheet",
                                        "Flange and holes",
                                        "for who trims and drills",
                                        {Caution::near_the_sill, Caution::workshop, Caution::no_proof},
                                        {Stage::mounts}});
    paper.lying = true;
    for (std::size_t i = 0; i < evaluation.job.skirt.pieces.size(); ++i) {
        if (const auto holes = holes_of(evaluation.plan, i); !holes.empty()) {
            add_piece(paper, evaluation, i, holes);
        }
    }
    std::vector<std::string> lacking;
    for (const std::string& missing : evaluation.plan.missing) {
        lacking.push_back("Sizes are not the whole truth yet, as this is not measured or decided: " + missing + ".");
    }
    add_items(paper, std::move(lacking));
    return paper;
}

}  // namespace sillwright::core
