#include "core/handover/outer_strip.h"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "core/skirt/flange_face.h"
#include "core/skirt/surface.h"
#include "geometry/corner.h"
#include "geometry/parallel.h"
#include "geometry/varying_parallel.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

constexpr double k_step_mm = 10.0;
constexpr Length k_outline_tolerance = millimetres(0.02);
/// Straights that turn by less have no corner to be found by meeting.
constexpr double k_no_turn = 1e-6;
/// A strip that is narrower has run out.
constexpr double k_no_width_mm = 0.1;

/// Numbers of the names of a strip: the free edge, the bend, and the next one beyond it.
struct StripNames {
    std::size_t edge = 0, bend = 0, next = 0;
};

std::optional<StripNames> names_of(const geometry::Loft& line, FreeEdge edge) {
    const std::size_t count = line.names().size();
    if (edge == FreeEdge::top_return_end) {
        return count < 3 ? std::nullopt : std::optional(StripNames{0, 1, 2});
    }
    const auto end = std::find(line.names().begin(), line.names().end(), k_flange_end);
    if (!FlangeFace::drawn_on(line) || end - line.names().begin() < 2) {
        return std::nullopt;
    }
    const auto number = static_cast<std::size_t>(end - line.names().begin());
    return StripNames{number, number - 1, number - 2};
}

/// A straight of the outside: `from` and `to` in the line's order, each at its own distance to the left.
struct Face {
    Vector2d from, to;
};
Face face_of(const Vector2d& from, const Vector2d& to, double from_mm, double to_mm) {
    const Vector2d way = (to - from).normalized();
    const Vector2d left(-way.y(), way.x());
    return {from + from_mm * left, to + to_mm * left};
}

Vector2d meeting(const Face& a, const Face& b, const Vector2d& otherwise) {
    Eigen::Matrix2d ways;
    ways << (a.to - a.from).normalized(), -(b.to - b.from).normalized();
    if (std::abs(ways.determinant()) < k_no_turn) {
        return otherwise;
    }
    const Vector2d steps = ways.inverse() * (b.from - a.from);
    return a.from + steps.x() * (a.to - a.from).normalized();
}

std::optional<geometry::Rung> rung_at(const geometry::Loft& line, const geometry::OffsetLaw& law,
                                      const StripNames& names, Length along) {
    if (!line.present_at(names.edge, along) || !line.present_at(names.bend, along)) {
        return std::nullopt;
    }
    const auto nodes = line.nodes_at(along);
    const geometry::OffsetRow row = law.at(along);
    const auto face = [&](std::size_t i, std::size_t j) {
        const std::size_t from = std::min(i, j);
        const std::size_t to = std::max(i, j);
        return face_of(nodes[from].p_mm, nodes[to].p_mm, row.at(static_cast<double>(from)),
                       row.at(static_cast<double>(to)));
    };
    if ((nodes[names.edge].p_mm - nodes[names.bend].p_mm).norm() < k_no_width_mm ||
        (nodes[names.next].p_mm - nodes[names.bend].p_mm).norm() < k_no_width_mm) {
        return std::nullopt;
    }
    const Face strip = face(names.edge, names.bend);
    const bool edge_first = names.edge < names.bend;
    const Vector2d corner = meeting(strip, face(names.bend, names.next), edge_first ? strip.to : strip.from);
    const Vector2d edge = edge_first ? strip.from : strip.to;
    if ((edge - corner).norm() < k_no_width_mm) {
        return std::nullopt;
    }
    const double x = in_mm(along);
    return geometry::Rung{{x, corner.x(), corner.y()}, {x, edge.x(), edge.y()}};
}

std::vector<Length> places_of(const geometry::Loft& line) {
    std::vector<Length> places;
    const auto& sections = line.sections();
    for (std::size_t i = 1; i < sections.size(); ++i) {
        const double from = in_mm(sections[i - 1].along);
        const double to = in_mm(sections[i].along);
        const double parts = std::max(1.0, std::ceil((to - from) / k_step_mm));
        for (double k = 0.0; k < parts; ++k) {
            places.push_back(k == 0.0 ? sections[i - 1].along : millimetres(from + (to - from) * k / parts));
        }
    }
    places.push_back(sections.back().along);
    return places;
}

}  // namespace

Vector2d OuterStrip::at(const Vector3d& p_mm) const {
    return turned.cwiseProduct(strip->at(p_mm));
}

OuterStripOutcome outer_strip(const Job& job, const CarModel& car, std::size_t piece, FreeEdge edge) {
    const Piece& drawn = job.skirt.pieces[piece];
    const PieceModel& model = car.pieces[piece];
    const std::string whose = "of " + piece_words(drawn);
    if (!model.line) {
        return {{}, "the sections " + whose};
    }
    const auto names = names_of(*model.line, edge);
    if (!names) {
        return {{},
                edge == FreeEdge::flange_end ? "the flange " + whose + ", from flange root to flange end"
                                             : "three nodes or more " + whose};
    }
    const auto law = outward_law(drawn, *model.line, model.formed.get(), job.skirt.paint, Surface::outside);
    if (!law) {
        return {{}, "the sheet's thickness " + whose};
    }
    OuterStrip strip;
    for (const Length along : places_of(*model.line)) {
        if (const auto rung = rung_at(*model.line, *law, *names, along)) {
            strip.along.push_back(along);
            strip.rungs.push_back(*rung);
            strip.across_mm.push_back((rung->far_mm - rung->near_mm).norm());
        }
    }
    auto flat = geometry::FlatStrip::of(strip.rungs);
    if (!flat) {
        return {{}, "more of the edge " + whose + ": " + flat.error().message};
    }
    strip.strip = std::move(flat).value();
    strip.misfit_mm = strip.strip->misfit_mm();
    // Along, out and up are right-handed on the right side only. From a strip's bend to its edge the flange runs in the
    // line's order, so that its outside is seen; the top return runs against it.
    strip.turned = {job.side == Side::left ? -1.0 : 1.0, edge == FreeEdge::top_return_end ? -1.0 : 1.0};
    for (std::size_t i = 0; i < strip.rungs.size(); ++i) {
        strip.near_mm.push_back(strip.turned.cwiseProduct(strip.strip->near_mm()[i]));
        strip.far_mm.push_back(strip.turned.cwiseProduct(strip.strip->far_mm()[i]));
    }
    return {std::move(strip), {}};
}

std::vector<std::vector<Vector2d>> outside_line(const Job& job, const CarModel& car, std::size_t piece, Length along) {
    std::vector<std::vector<Vector2d>> chains;
    const Piece& drawn = job.skirt.pieces[piece];
    const PieceModel& model = car.pieces[piece];
    if (!model.line || along < model.line->front() || model.line->rear() < along) {
        return chains;
    }
    const auto law = outward_law(drawn, *model.line, model.formed.get(), job.skirt.paint, Surface::outside);
    if (!law) {
        return chains;
    }
    if (!law->is_same()) {
        std::vector<geometry::Corner> corners;
        const auto nodes = model.line->nodes_at(along);
        if (geometry::find_corners(nodes, model.line->names(), false, corners)) {
            chains.push_back(geometry::varying_parallel(corners, geometry::plain_marks(nodes.size()), law->at(along),
                                                        k_outline_tolerance));
        }
        return chains;
    }
    const auto face = model.line->section_at(along).and_then(
        [&](const geometry::Profile& line) { return geometry::parallel(line, millimetres(law->mm.front())); });
    if (!face) {
        return chains;
    }
    for (const geometry::Profile& chain : face.value().chains) {
        if (auto points = geometry::polyline(chain, k_outline_tolerance)) {
            chains.push_back(std::move(points).value());
        }
    }
    return chains;
}

}  // namespace sillwright::core
