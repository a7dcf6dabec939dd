#include "core/handover/papers/buck_pack.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "core/buck/buck_plan.h"
#include "core/finding_words.h"
#include "core/handover/papers/buck_picture.h"
#include "core/handover/papers/paper.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_deg;
using geometry::in_mm;

namespace {

/// A bevel that is smaller is none: no plane takes it off.
constexpr double k_bevel_least_deg = 0.05;

const Board* board_named(const Job& job, const std::string& name) {
    const auto found = std::find_if(job.buck.boards.begin(), job.buck.boards.end(),
                                    [&](const Board& board) { return board.name == name; });
    return found == job.buck.boards.end() ? nullptr : &*found;
}

const CutPart* part_of(const BuckWork& work, const std::string& label) {
    const auto found =
        std::find_if(work.parts.begin(), work.parts.end(), [&](const CutPart& part) { return part.label == label; });
    return found == work.parts.end() ? nullptr : &*found;
}

/// "mdf 12, sheet 1"; empty where it is not nested.
std::string sheet_of(const BuckWork& work, const std::string& label) {
    for (const NestedSheet& sheet : work.nesting.sheets) {
        for (const PlacedPart& placed : sheet.parts) {
            if (placed.part < work.parts.size() && work.parts[placed.part].label == label) {
                return sheet.board + ", sheet " + std::to_string(sheet.number);
            }
        }
    }
    return {};
}

std::string lies_on(const BuckWork& work, const std::string& label) {
    const std::string sheet = sheet_of(work, label);
    if (!sheet.empty()) {
        return sheet;
    }
    const CutPart* const part = part_of(work, label);
    return part == nullptr ? "not nested" : part->board + ", not nested";
}

void add_boards(Document& paper, const Job& job) {
    Grid grid{
        {"board", "length × width, mm", "measured 1, mm", "measured 2, mm", "measured 3, mm", "count"}, {}, {2, 3, 4}};
    for (const Board& board : job.buck.boards) {
        const auto maybe = [](const std::optional<Entry>& entry) {
            return entry ? cell(entry->value, 2) : std::string();
        };
        grid.rows.push_back({board.name,
                             board.length && board.width
                                 ? cell(board.length->value, 0) + " × " + cell(board.width->value, 0)
                                 : "not measured",
                             maybe(board.thickness_1), maybe(board.thickness_2), maybe(board.thickness_3),
                             board.count ? fixed_text(*board.count, 0) : "as many as needed"});
    }
    if (!grid.rows.empty()) {
        add_heading(paper, "Boards");
        add_words(paper,
                  "Slots are cut to the measured thickness and " + mm_text(job.buck.fit.value, 2) +
                      " more. Measure each board at three places before it is cut; if it is another, change the job "
                      "and cut from new files.");
    }
    add_grid(paper, std::move(grid));
}

std::string slots_text(const std::vector<Slot>& slots) {
    std::vector<std::string> words;
    for (const Slot& slot : slots) {
        words.push_back(cell_mm(slot.width_mm, 2) + " wide, " + cell_mm(slot.depth_mm) + " deep at " +
                        cell_mm(slot.at_mm));
    }
    return words.empty() ? "none" : joined(words, "; ");
}

std::string place_of(const Rib& rib) {
    return (rib.station.empty() ? "between stations" : "station " + rib.station) + ", along " + cell(rib.along);
}

void add_ribs(Document& paper, const PieceBuck& buck, const BuckWork& work) {
    Grid ribs{
        {"rib", "place, mm", "x of its face, mm", "that face", "side × height, mm", "thick, mm", "slots, mm", "on"},
        {},
        {}};
    for (const Rib& rib : buck.ribs) {
        const Eigen::AlignedBox2d box = box_of(rib.outline);
        ribs.rows.push_back({rib.label, place_of(rib), cell_mm(rib.x_mm), rib.place_is_front ? "front" : "rear",
                             cell_mm(box.sizes().x()) + " × " + cell_mm(box.sizes().y()), cell_mm(rib.thickness_mm, 2),
                             slots_text(rib.laps), lies_on(work, rib.label)});
    }
    add_grid(paper, std::move(ribs));
    Grid spines{
        {"spine", "side of its middle, mm", "from x, mm", "to x, mm", "height, mm", "thick, mm", "ribs", "on"}, {}, {}};
    for (const Spine& spine : buck.spines) {
        spines.rows.push_back({spine.label, cell_mm(spine.side_mm), cell_mm(spine.front_mm), cell_mm(spine.rear_mm),
                               cell_mm(spine.height_mm), cell_mm(spine.thickness_mm, 2), joined(spine.rib_labels, ", "),
                               lies_on(work, spine.label)});
    }
    add_grid(paper, std::move(spines));
    if (buck.base) {
        add_values(paper,
                   {{"base board " + buck.base->label, cell_mm(buck.base->rear_mm - buck.base->front_mm) + " × " +
                                                           cell_mm(buck.base->high_mm - buck.base->low_mm) + " mm, " +
                                                           cell_mm(buck.base->thickness_mm, 2) + " mm thick, " +
                                                           lies_on(work, buck.base->label)}});
    }
}

std::vector<std::string> assembly(const Job& job, const PieceBuck& buck) {
    std::vector<std::string> steps;
    std::vector<std::string> spines;
    for (const Spine& spine : buck.spines) {
        spines.push_back(spine.label);
    }
    steps.push_back(buck.base ? "Lay base " + buck.base->label + " flat and level, its front mark to the front."
                              : "Work on a flat, level bench: it is the base.");
    if (!spines.empty()) {
        steps.push_back("Stand " + joined(spines, " and ") + " on it, slots up, arrows to the front.");
    }
    std::vector<std::string> ribs;
    for (const Rib& rib : buck.ribs) {
        ribs.push_back(rib.label);
    }
    steps.push_back("Put the ribs on from the front: " + joined(ribs, ", ") +
                    ". FRONT and OUT arrows of all point the same way.");
    if (buck.worst_swap) {
        const WrongPlace& swap = *buck.worst_swap;
        steps.push_back("Look that every rib is down on the base. One in a wrong place stands off it by " +
                        cell_mm(swap.lift_mm) + " mm at least (" + swap.rib +
                        (swap.reversed ? " the wrong way round" : "") + " in the place of " + swap.place + ").");
    }
    if (!buck.ribs.empty() && !buck.ribs.front().pins_mm.empty()) {
        steps.push_back("Push " + count_text(buck.ribs.front().pins_mm.size(), "datum rod", "datum rods") + " of " +
                        mm_text(job.buck.pin.value, 1) + " through all ribs. They go through by hand.");
    }
    if (!buck.ribs.empty()) {
        steps.push_back("Stretch a string along the level lines: all are " + cell_mm(buck.ribs.front().level_mm) +
                        " mm above the base.");
    }
    steps.emplace_back("Measure the check distances below; only then glue.");
    steps.push_back("Bevel the ribs' edges by the table, then skin with " + cell_mm(buck.skin_mm) + " mm.");
    return steps;
}

void add_checks(Document& paper, const PieceBuck& buck) {
    Grid grid{{"from", "to", "distance, mm", "measured, mm"}, {}, {3}};
    for (const CheckDistance& check : buck.checks) {
        grid.rows.push_back({check.from, check.to, cell(check.value), ""});
    }
    if (!grid.rows.empty()) {
        add_heading(paper, "Check distances");
    }
    add_grid(paper, std::move(grid));
}

/// "0.4° to 0.5°, 0.11", or nothing where no plane would take it off.
std::string bevel_text(const Bevel& bevel) {
    if (std::max(std::abs(in_deg(bevel.from)), std::abs(in_deg(bevel.to))) < k_bevel_least_deg) {
        return "none";
    }
    const std::string from = degree_text(bevel.from, 1);
    const std::string to = degree_text(bevel.to, 1);
    return (from == to ? from : from + " to " + to) + ", " + cell(bevel.most, 2);
}

/// A row for each rib, a column for each strip.
void add_bevels(Document& paper, const PieceBuck& buck) {
    Grid grid{{"rib"}, {}, {}};
    for (const Rib& rib : buck.ribs) {
        for (const Bevel& bevel : rib.bevels) {
            if (std::find(grid.columns.begin(), grid.columns.end(), bevel.strip) == grid.columns.end()) {
                grid.columns.push_back(bevel.strip);
            }
        }
    }
    for (const Rib& rib : buck.ribs) {
        std::vector<std::string> row{rib.label};
        row.resize(grid.columns.size(), "none");
        for (const Bevel& bevel : rib.bevels) {
            const auto column = std::find(grid.columns.begin(), grid.columns.end(), bevel.strip);
            row[static_cast<std::size_t>(column - grid.columns.begin())] = bevel_text(bevel);
        }
        grid.rows.push_back(std::move(row));
    }
    if (grid.columns.size() < 2) {
        return;
    }
    add_heading(paper, "Bevels");
    add_words(paper,
              "From the strip's one end to its other, and by how many mm at most. Above zero: plane the edge down to "
              "its far face. Below zero: leave it, the skin bridges a gap.");
    add_grid(paper, std::move(grid));
}

void add_piece(Document& paper, const Evaluation& evaluation, const PieceBuck& buck, const BuckWork& work) {
    const Job& job = evaluation.job;
    const std::string& name = job.skirt.pieces[buck.piece].name;
    add_heading(paper, "Buck of " + name);
    std::vector<std::string> lacking;
    for (const std::string& missing : buck.missing) {
        lacking.push_back("Not decided or measured yet: " + missing + ".");
    }
    add_items(paper, std::move(lacking));
    if (buck.ribs.empty()) {
        return;
    }
    add_values(paper, {{"tilt of the draw direction", degree_text(buck.tilt, 1)},
                       {"size of the plug, of the part, along", fixed_text(buck.along_size, 5)},
                       {"size of the plug, of the part, across", fixed_text(buck.across_size, 5)},
                       {"skin over the ribs", cell_mm(buck.skin_mm) + " mm"},
                       {"x is 0 at the part's place along", mm_text(buck.front, 1)},
                       {"ribs' edges off the plug's inside, at most", cell_mm(buck.surface_misfit_mm, 3) + " mm"}});
    Figure figure;
    figure.kind = FigureKind::drawing;
    figure.piece = buck.piece;
    figure.caption = "The buck from the side, and below that from on top";
    figure.drawing = std::make_shared<const geometry::Drawing>(assembly_picture(buck));
    paper.blocks.emplace_back(std::move(figure));
    add_ribs(paper, buck, work);
    add_heading(paper, "Order of assembly");
    add_items(paper, assembly(job, buck), true);
    add_checks(paper, buck);
    add_bevels(paper, buck);
}

void add_holes(Document& paper, const BuckWork& work) {
    Grid grid{{"part", "hole", "diameter, mm", "x, mm", "y, mm"}, {}, {}};
    for (const CutPart& part : work.parts) {
        for (const DrilledHole& hole : part.holes) {
            grid.rows.push_back({part.label, hole.what, cell_mm(hole.diameter_mm), cell_mm(hole.at_mm.x(), 2),
                                 cell_mm(hole.at_mm.y(), 2)});
        }
    }
    if (!grid.rows.empty()) {
        add_heading(paper, "Holes to drill");
        add_words(paper, "x to the right and y up, as each part is drawn with its words upright.");
    }
    add_grid(paper, std::move(grid));
}

void add_sheets(Document& paper, const Job& job, const BuckWork& work) {
    const Nesting& nesting = work.nesting;
    if (nesting.sheets.empty() && nesting.left_out.empty()) {
        return;
    }
    add_heading(paper, "Sheets");
    add_values(paper, {{"sheets used", std::to_string(nesting.sheets.size())},
                       {"no nest can need fewer than", std::to_string(nesting.least_sheets)},
                       {"between parts", cell_mm(nesting.gap_mm) + " mm"}});
    std::vector<std::string> left_out;
    for (const std::size_t part : nesting.left_out) {
        if (part < work.parts.size()) {
            left_out.push_back(work.parts[part].label + " is on no sheet: no board takes it, or there are too few.");
        }
    }
    add_items(paper, std::move(left_out));
    std::vector<std::string> refused;
    for (const NestedSheet& sheet : nesting.sheets) {
        const auto picture = sheet_picture(work.parts, sheet, board_named(job, sheet.board));
        if (!picture) {
            refused.push_back(picture.error().message);
            continue;
        }
        Figure figure;
        figure.kind = FigureKind::drawing;
        figure.caption = sheet.board + ", sheet " + std::to_string(sheet.number) + ": " +
                         count_text(sheet.parts.size(), "part", "parts") + ". Keep the off-cut, " +
                         cell_mm(sheet.left_mm.x(), 0) + " × " + cell_mm(sheet.left_mm.y(), 0) + " mm.";
        figure.drawing = std::make_shared<const geometry::Drawing>(picture.value());
        figure.height_share = 0.45;
        paper.blocks.emplace_back(std::move(figure));
    }
    add_items(paper, std::move(refused));
}

void add_material(Document& paper, const Job& job, const BuckPlan* plan, const BuckWork& work) {
    Grid grid{{"what", "how many", "size", "price"}, {}, {}};
    std::map<std::string, std::size_t> sheets;
    for (const NestedSheet& sheet : work.nesting.sheets) {
        ++sheets[sheet.board];
    }
    for (const auto& [name, count] : sheets) {
        const Board* const board = board_named(job, name);
        grid.rows.push_back({name, std::to_string(count),
                             board != nullptr && board->length && board->width
                                 ? cell(board->length->value, 0) + " × " + cell(board->width->value, 0) + " mm"
                                 : "not measured",
                             board != nullptr && board->price
                                 ? fixed_text(*board->price * static_cast<double>(count), 2)
                                 : "not entered"});
    }
    for (std::size_t i = 0; plan != nullptr && i < plan->pieces.size(); ++i) {
        const PieceBuck& buck = plan->pieces[i];
        if (!buck.ribs.empty() && !buck.ribs.front().pins_mm.empty()) {
            const double length = buck.ribs.back().rear_mm() - buck.ribs.front().front_mm();
            grid.rows.push_back({"datum rod", std::to_string(buck.ribs.front().pins_mm.size()),
                                 "diameter " + cell(job.buck.pin.value) + ", longer than " + cell_mm(length, 0) + " mm",
                                 "not entered"});
        }
    }
    if (!grid.rows.empty()) {
        add_heading(paper, "What to buy");
    }
    add_grid(paper, std::move(grid));
}

std::string bit_words(const Job& job) {
    if (job.buck.bit.empty()) {
        return "not decided: inside corners have no relief yet";
    }
    return job.buck.bit +
           (job.buck.line == CutLine::finished
                ? "; lines in the files are finished edges: the machine compensates"
                : "; lines in the files are the way of the bit's middle: the machine must not compensate");
}

}  // namespace

std::optional<Document> buck_pack(const Evaluation& evaluation, const BuckWork& work) {
    const BuckPlan* const plan = evaluation.buck.get();
    const bool ribs = plan != nullptr && std::any_of(plan->pieces.begin(), plan->pieces.end(),
                                                     [](const PieceBuck& buck) { return !buck.ribs.empty(); });
    if (!ribs && work.parts.empty()) {
        return std::nullopt;
    }
    Document paper = begun(evaluation, {"buck_pack",
                                        "Buck",
                                        "for who cuts and builds the buck",
                                        {Caution::workshop, Caution::no_proof},
                                        {Stage::buck}});
    paper.lying = true;
    add_boards(paper, evaluation.job);
    add_values(paper, {{"bit that cuts out", bit_words(evaluation.job)},
                       {"order of cuts on each sheet", "words and lines, holes, inside cuts, outlines last"}});
    if (plan != nullptr) {
        for (const PieceBuck& buck : plan->pieces) {
            add_piece(paper, evaluation, buck, work);
        }
    }
    add_holes(paper, work);
    add_sheets(paper, evaluation.job, work);
    add_material(paper, evaluation.job, plan, work);
    std::vector<std::string> remarks;
    for (const Finding& finding : evaluation.findings) {
        if (finding.stage == Stage::buck && finding.state != State::holds) {
            remarks.push_back(finding.title + " (" + look(finding.state).word + "): " + told(finding));
        }
    }
    if (!remarks.empty()) {
        add_heading(paper, "What does not hold, or is close");
    }
    add_items(paper, std::move(remarks));
    add_boxes(paper, {"Cut by", "Date", "Built and measured by", "Date"});
    return paper;
}

}  // namespace sillwright::core
