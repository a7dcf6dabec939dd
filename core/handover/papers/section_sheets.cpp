#include "core/handover/papers/section_sheets.h"

#include <algorithm>
#include <utility>

#include "core/drawn_loft.h"
#include "core/forming/draw.h"
#include "core/forming/forming_plan.h"
#include "core/handover/papers/paper.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::Length;
using geometry::Loft;

namespace {

/// Stations in one table of lines: as many columns as a page holds.
constexpr std::size_t k_columns = 8;
/// Of a page: two stations go on one.
constexpr double k_section_share = 0.22;

struct PieceAt {
    const Evaluation& evaluation;
    std::size_t number;
    const Piece& piece;
    const PieceModel& model;
    const Loft& line;
    const PieceForming* forming;  ///< Null if it is not known.
};

const PieceForming* forming_of(const Evaluation& evaluation, std::size_t piece) {
    if (evaluation.forming == nullptr) {
        return nullptr;
    }
    const auto& all = evaluation.forming->pieces;
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const PieceForming& one) { return one.piece == piece; });
    return found == all.end() ? nullptr : &*found;
}

std::vector<const Station*> stations_of(const Job& job, const Loft& line) {
    std::vector<const Station*> all;
    for (const Station& station : job.stations) {
        if (station.along.value >= line.front() && station.along.value <= line.rear()) {
            all.push_back(&station);
        }
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Station* a, const Station* b) { return a->along.value < b->along.value; });
    return all;
}

std::string face_words(const PieceAt& at) {
    const bool inside = at.piece.drawn_face == DrawnFace::inside;
    std::string words = std::string("The drawn line is the ") + (inside ? "inside" : "outside") +
                        " of the sheet: the " + (inside ? "outside" : "inside") +
                        " lies one thickness of the sheet further " + (inside ? "out" : "in") +
                        ". Points are the corners before they are rounded.";
    if (at.piece.sheet) {
        words += " Sheet before forming: " + mm_text(at.piece.sheet->value, 1) + ".";
    } else {
        words += " The sheet's thickness is not measured.";
    }
    return words;
}

void add_lines(Document& paper, const PieceAt& at, const std::vector<const Station*>& stations, bool up) {
    for (std::size_t first = 0; first < stations.size(); first += k_columns) {
        const std::size_t last = std::min(first + k_columns, stations.size());
        Grid grid{{up ? "up, mm" : "out, mm"}, {}, {}};
        for (std::size_t i = first; i < last; ++i) {
            grid.columns.push_back(stations[i]->name + " · " + cell(stations[i]->along.value, 0));
        }
        for (std::size_t name = 0; name < at.line.names().size(); ++name) {
            std::vector<std::string> row{at.line.names()[name]};
            for (std::size_t i = first; i < last; ++i) {
                const Length along = stations[i]->along.value;
                const Eigen::Vector2d p_mm = at.line.node_at(name, along).p_mm;
                row.push_back(at.line.present_at(name, along) ? cell_mm(up ? p_mm.y() : p_mm.x()) : "run out");
            }
            grid.rows.push_back(std::move(row));
        }
        add_grid(paper, std::move(grid));
    }
}

/// Thickness as formed, or that of the sheet; empty if neither is known.
std::string sheet_cell(const PieceAt& at, Length along, double mark) {
    if (at.model.formed) {
        return cell(at.model.formed->thickness_at(along, mark), 2);
    }
    return at.piece.sheet ? cell(at.piece.sheet->value, 2) : "";
}

Grid points_of(const PieceAt& at, Length along) {
    Grid grid{{"point", "out, mm", "up, mm", "radius, mm", "sheet there, mm", "draft to the next"}, {}, {}};
    std::vector<DraftPoint> draft;
    if (at.forming != nullptr) {
        draft = draft_points(at.evaluation.job, at.piece, at.line, along, at.forming->draw.tilt);
    }
    const std::size_t count = at.line.names().size();
    for (std::size_t i = 0; i < count; ++i) {
        if (!at.line.present_at(i, along)) {
            continue;
        }
        const geometry::ProfileNode node = at.line.node_at(i, along);
        const auto mark = static_cast<double>(i);
        const bool has_next = i + 1 < count && !draft.empty();
        grid.rows.push_back({at.line.names()[i], cell_mm(node.p_mm.x()), cell_mm(node.p_mm.y()),
                             node.radius > Length{} ? cell(node.radius) : "sharp", sheet_cell(at, along, mark),
                             has_next ? degree_text(draft_at(draft, mark + 0.5), 1) : ""});
    }
    return grid;
}

void add_station(Document& paper, const PieceAt& at, const Station& station) {
    const Length along = station.along.value;
    const auto& sections = at.piece.drawn.sections;
    const bool drawn = std::any_of(sections.begin(), sections.end(),
                                   [&](const Section& section) { return section.station == station.name; });
    add_heading(paper, at.piece.name + ", station " + station.name + ", along " + mm_text(along, 1));
    if (!drawn) {
        add_words(paper, "No section is drawn here: it is what lies between its neighbours.");
    }
    Figure figure;
    figure.kind = FigureKind::section;
    figure.along = along;
    figure.piece = at.number;
    figure.caption = "Section at station " + station.name;
    figure.height_share = k_section_share;
    paper.blocks.emplace_back(std::move(figure));
    add_grid(paper, points_of(at, along));
}

}  // namespace

std::optional<Document> section_sheets(const Evaluation& evaluation) {
    Document paper = begun(evaluation, {"section_sheets",
                                        "Sections",
                                        "for who makes patterns, and who draws",
                                        {Caution::near_the_sill, Caution::no_proof},
                                        {Stage::sections, Stage::swing}});
    bool any = false;
    for (std::size_t i = 0; i < evaluation.car.pieces.size(); ++i) {
        const PieceModel& model = evaluation.car.pieces[i];
        if (!model.line) {
            continue;
        }
        const PieceAt at{evaluation, i, evaluation.job.skirt.pieces[i], model, *model.line, forming_of(evaluation, i)};
        const auto stations = stations_of(evaluation.job, *model.line);
        if (!any) {
            Figure strip;
            strip.kind = FigureKind::strip;
            strip.caption = "The unrolled strip: the side above, the underside below";
            strip.height_share = 0.3;
            paper.blocks.emplace_back(std::move(strip));
        }
        any = true;
        add_heading(paper, at.piece.name + ", its lines along the car");
        add_words(paper, face_words(at));
        add_lines(paper, at, stations, false);
        add_lines(paper, at, stations, true);
        for (const Station* station : stations) {
            add_station(paper, at, *station);
        }
    }
    return any ? std::optional(std::move(paper)) : std::nullopt;
}

}  // namespace sillwright::core
