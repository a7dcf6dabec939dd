#include "core/handover/papers/prototype_list.h"

#include <algorithm>
#include <utility>

#include "core/forming/forming_plan.h"
#include "core/handover/papers/paper.h"
#include "core/number_text.h"
#include "core/skirt/surface.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::Loft;

namespace {

struct CheckPlace {
    std::string strip;
    Eigen::Vector2d at_mm;  ///< (out, up), on the mould's face.
};

std::vector<CheckPlace> check_places(const Loft& line, const geometry::OffsetLaw& face, Length along) {
    std::vector<CheckPlace> places;
    std::vector<std::size_t> there;
    for (std::size_t i = 0; i < line.names().size(); ++i) {
        if (line.present_at(i, along)) {
            there.push_back(i);
        }
    }
    for (std::size_t k = 0; k + 1 < there.size(); ++k) {
        const std::size_t from = there[k];
        const std::size_t to = there[k + 1];
        const Eigen::Vector2d a = line.node_at(from, along).p_mm;
        const Eigen::Vector2d b = line.node_at(to, along).p_mm;
        if ((b - a).norm() < in_mm(k_straight_least)) {
            continue;
        }
        const Eigen::Vector2d way = (b - a).normalized();
        const Eigen::Vector2d left(-way.y(), way.x());
        const double mark = 0.5 * static_cast<double>(from + to);
        places.push_back({line.names()[from] + " to " + line.names()[to], 0.5 * (a + b) + face.at(along, mark) * left});
    }
    return places;
}

/// The surface that the prototype has; the drawn line where the sheet is not known.
geometry::OffsetLaw face_of(const Evaluation& evaluation, std::size_t number) {
    const Job& job = evaluation.job;
    const PieceModel& model = evaluation.car.pieces[number];
    const auto law = outward_law(job.skirt.pieces[number], *model.line, model.formed.get(), job.skirt.paint,
                                 Surface::mould_face, job.forming.mould.value_or(MouldKind::male));
    return law.value_or(geometry::OffsetLaw::same(Length{}));
}

std::string limit_words(const Job& job) {
    if (!job.skirt.forming_sd) {
        return "No limit can be said: how true the formed part comes out is not stated in the job. Write down what is "
               "measured all the same.";
    }
    return "Limit: ± " + mm_text(2.0 * job.skirt.forming_sd->value, 1) +
           ". The gaps to the doors reckon with that much. Beyond it cut, or add, and measure again.";
}

std::string size_words(const Evaluation& evaluation) {
    const ChainSize across =
        evaluation.forming ? chain_size(evaluation.forming->chain, true) : ChainSize{1.0, 0.0, {"the mould chain"}};
    if (!across.missing.empty()) {
        return "Numbers are at the part's size. How much larger the prototype must be is not known yet.";
    }
    return "Numbers are at the part's size. The prototype is larger across by " +
           fixed_text(100.0 * (1.0 / across.ratio - 1.0), 2) +
           " %: divide what is measured on it, from the job's origin, by " + fixed_text(1.0 / across.ratio, 5) +
           " before comparing.";
}

void add_stations(Document& paper, const Evaluation& evaluation, std::size_t number) {
    const Job& job = evaluation.job;
    const Loft& line = *evaluation.car.pieces[number].line;
    const geometry::OffsetLaw face = face_of(evaluation, number);
    const std::string limit = job.skirt.forming_sd ? "± " + cell(2.0 * job.skirt.forming_sd->value) : std::string();
    Grid grid{
        {"station", "middle of", "out, mm", "up, mm", "limit, mm", "measured out, mm", "measured up, mm"}, {}, {5, 6}};
    for (const Station& station : job.stations) {
        const Length along = station.along.value;
        if (along < line.front() || along > line.rear()) {
            continue;
        }
        for (const CheckPlace& place : check_places(line, face, along)) {
            grid.rows.push_back({station.name + " · " + cell(along, 0), place.strip, cell_mm(place.at_mm.x()),
                                 cell_mm(place.at_mm.y()), limit.empty() ? "none" : limit, "", ""});
        }
    }
    add_grid(paper, std::move(grid));
}

/// What was measured on the prototype already: where it stands proud by most, and where it is hollow.
void add_sculpted(Document& paper, const AsSculpted& sculpted, const std::string& piece) {
    Grid grid{{"station", "where", "out, mm", "up, mm", "cut, mm", "add, mm"}, {}, {}};
    for (const SculptedStation& station : sculpted.stations) {
        const auto less = [](const SculptedPoint& a, const SculptedPoint& b) { return a.proud < b.proud; };
        const auto [low, high] = std::minmax_element(station.points.begin(), station.points.end(), less);
        const auto row = [&](const SculptedPoint& point) {
            const bool cut = point.proud > Length{};
            grid.rows.push_back({station.station, point.strip, cell_mm(point.at_mm.x()), cell_mm(point.at_mm.y()),
                                 cut ? cell(point.proud, 2) : "", cut ? "" : cell(-point.proud, 2)});
        };
        row(*high);
        if (low != high) {
            row(*low);
        }
    }
    if (!grid.rows.empty()) {
        add_heading(paper, piece + " as it was measured on the bench");
        add_words(paper, "Of each station the place that is furthest out, and the one that is furthest in.");
    }
    add_grid(paper, std::move(grid));
}

}  // namespace

std::optional<Document> prototype_list(const Evaluation& evaluation) {
    Document paper = begun(evaluation, {"prototype_list",
                                        "Prototype check list",
                                        "for the sculptor",
                                        {Caution::lifted_vehicle, Caution::workshop, Caution::no_proof},
                                        {Stage::forming, Stage::swing}});
    add_words(paper, size_words(evaluation));
    add_words(paper, limit_words(evaluation.job));
    bool any = false;
    for (std::size_t i = 0; i < evaluation.car.pieces.size(); ++i) {
        if (!evaluation.car.pieces[i].line) {
            continue;
        }
        any = true;
        const Piece& piece = evaluation.job.skirt.pieces[i];
        add_heading(paper, "Offsets of " + piece.name);
        add_words(paper,
                  outward_offset(piece, evaluation.job.skirt.paint, Surface::mould_face,
                                 evaluation.job.forming.mould.value_or(MouldKind::male))
                      ? "They are those of the mould's face, which the prototype has; the part's other face is one "
                        "thickness of the sheet away."
                      : "They are those of the drawn line: the sheet's thickness is not measured.");
        add_stations(paper, evaluation, i);
    }
    if (evaluation.forming != nullptr) {
        for (const PieceForming& forming : evaluation.forming->pieces) {
            add_sculpted(paper, forming.sculpted, evaluation.job.skirt.pieces[forming.piece].name);
        }
    }
    add_boxes(paper, {"Cut, where and how much", "Added, where and how much",
                      "Doors opened and shut with the prototype on the car: where was it nearest, and how near",
                      "Checked by", "Date", "Customer agrees to the shape, signed"});
    return any ? std::optional(std::move(paper)) : std::nullopt;
}

}  // namespace sillwright::core
