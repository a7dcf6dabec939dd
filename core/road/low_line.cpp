#include "core/road/low_line.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/skirt/surface.h"
#include "geometry/corner.h"
#include "geometry/mesh_section.h"
#include "geometry/varying_parallel.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::Corner;
using geometry::CornerKind;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::OffsetLaw;
using geometry::OffsetRow;

namespace {

/// Of what a middle section lies off the straight between its neighbours, so much may lie between two sections that
/// stand half as far apart: a quarter of it for a curve, half for one kink; the rest is for what is neither.
constexpr double k_between = 0.625;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

Vector2d left_of(const Vector2d& direction) {
    return {-direction.y(), direction.x()};
}

class Lowest {
public:
    void offer(const Vector2d& p, std::size_t node) {
        if (!found_ || p.y() < found_->p_mm.y()) {
            found_ = LowestOfSection{p, node};
        }
    }

    void offer_corner(const Corner& corner, std::size_t node, double offset_mm) {
        if (corner.kind == CornerKind::on_straight) {
            return;
        }
        if (corner.kind == CornerKind::end) {
            const Vector2d& direction = corner.after.isZero() ? corner.before : corner.after;
            offer(corner.p_mm + offset_mm * left_of(direction), node);
            return;
        }
        const Vector2d before = left_of(corner.before);
        const Vector2d after = left_of(corner.after);
        const Vector2d to_meeting = (before + after) / (1.0 + before.dot(after));
        const double radius = corner.radius_at(offset_mm);
        if (radius <= 0.0) {  // The two parallels meet in a point.
            offer(corner.p_mm + offset_mm * to_meeting, node);
            return;
        }
        const Vector2d centre = corner.p_mm + corner.side * corner.radius_mm * to_meeting;
        const Vector2d from = -corner.side * before;
        const Vector2d to = -corner.side * after;
        offer(centre + radius * from, node);
        offer(centre + radius * to, node);
        const Vector2d down(0.0, -1.0);
        const double turn = cross(from, to) < 0.0 ? -1.0 : 1.0;
        if (turn * cross(from, down) >= 0.0 && turn * cross(down, to) >= 0.0 && (from + to).dot(down) > 0.0) {
            offer(centre + radius * down, node);
        }
    }

    [[nodiscard]] const std::optional<LowestOfSection>& found() const { return found_; }

private:
    std::optional<LowestOfSection> found_;
};

/// The points of a face whose distance changes, lowered by what it may lie below the straights between them.
void offer_face(Lowest& lowest, const std::vector<Corner>& corners, const std::vector<double>& marks,
                const OffsetRow& row) {
    geometry::FaceLayout layout;
    geometry::widen(layout, corners, marks, row, millimetres(k_low_fit_mm));
    std::vector<Vector2d> points;
    const Length off = geometry::append_varying_parallel(corners, marks, row, layout, points);
    std::size_t next = 0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const auto offer = [&](std::size_t node) { lowest.offer(points[next++] - Vector2d(0.0, in_mm(off)), node); };
        for (std::size_t k = 0; k <= layout.chords[i]; ++k) {
            offer(i);
        }
        if (i + 1 < corners.size()) {
            for (const double part : layout.parts[i]) {
                offer(part < 0.5 ? i : i + 1);
            }
        }
    }
}

/// Places along a loft: its key places, and between two of them an even number of steps.
std::vector<std::vector<Length>> stretches(const std::vector<Length>& keys) {
    std::vector<std::vector<Length>> all;
    for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
        const Length step = keys[i + 1] - keys[i];
        const int pairs = std::max(1, static_cast<int>(std::ceil(in_mm(step) / (2.0 * k_low_pitch_mm))));
        std::vector<Length> places;
        for (int k = 0; k <= 2 * pairs; ++k) {
            places.push_back(keys[i] + step * (static_cast<double>(k) / (2 * pairs)));
        }
        all.push_back(std::move(places));
    }
    return all;
}

void take_bound(LowLine& line, const std::vector<LowPoint>& stretch) {
    for (std::size_t i = 1; i + 1 < stretch.size(); i += 2) {
        const double off = 0.5 * (stretch[i - 1].p_mm.z() + stretch[i + 1].p_mm.z()) - stretch[i].p_mm.z();
        line.bound_mm = std::max(line.bound_mm, k_between * std::abs(off));
    }
}

void add_loft(LowLine& line, const Loft& loft, std::optional<std::size_t> piece, const OffsetLaw& left,
              const OffsetLaw& right) {
    std::vector<geometry::ProfileNode> nodes;
    geometry::OffsetRow left_row;
    geometry::OffsetRow right_row;
    for (const std::vector<Length>& places : stretches(loft.key_places())) {
        std::vector<LowPoint> stretch;
        for (const Length along : places) {
            loft.nodes_at(along, nodes);
            left.at(along, left_row);
            right.at(along, right_row);
            if (const auto low = lowest_of_section(nodes, loft.names(), left_row, right_row)) {
                stretch.push_back({{in_mm(along), low->p_mm.x(), low->p_mm.y()}, piece, loft.names()[low->node]});
            }
        }
        take_bound(line, stretch);
        line.points.insert(line.points.end(), stretch.begin(), stretch.end());
    }
}

void add_mesh(LowLine& line, const geometry::Mesh& mesh, std::size_t piece, double film_mm) {
    double front = mesh.points.front().x();
    double rear = front;
    for (const Vector3d& p : mesh.points) {
        front = std::min(front, p.x());
        rear = std::max(rear, p.x());
    }
    std::vector<double> places;
    for (const auto& stretch : stretches({millimetres(front), millimetres(rear)})) {
        for (const Length along : stretch) {
            places.push_back(in_mm(along));
        }
    }
    std::vector<LowPoint> stretch;
    for (const auto& chains : geometry::mesh_sections(mesh, Vector3d::UnitX(), places)) {
        std::optional<LowPoint> low;
        for (const geometry::CutChain& chain : chains) {
            for (const Vector3d& p : chain.points_mm) {
                if (!low || p.z() < low->p_mm.z()) {
                    low = LowPoint{p, piece};
                }
            }
        }
        if (low) {
            low->p_mm.z() -= film_mm + in_mm(mesh.deviation);
            stretch.push_back(*low);
        }
    }
    take_bound(line, stretch);
    line.points.insert(line.points.end(), stretch.begin(), stretch.end());
}

}  // namespace

std::optional<LowestOfSection> lowest_of_section(const std::vector<geometry::ProfileNode>& nodes,
                                                 const std::vector<std::string>& names, double left_mm,
                                                 double right_mm) {
    std::vector<Corner> corners;
    if (!geometry::find_corners(nodes, names, false, corners)) {
        return std::nullopt;
    }
    Lowest lowest;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        for (const double offset : {left_mm, right_mm}) {
            lowest.offer_corner(corners[i], i, offset);
        }
    }
    return lowest.found();
}

std::optional<LowestOfSection> lowest_of_section(const std::vector<geometry::ProfileNode>& nodes,
                                                 const std::vector<std::string>& names, const OffsetRow& left,
                                                 const OffsetRow& right) {
    if (left.mm.size() == 1 && right.mm.size() == 1) {
        return lowest_of_section(nodes, names, left.mm.front(), right.mm.front());
    }
    std::vector<Corner> corners;
    if (!geometry::find_corners(nodes, names, false, corners)) {
        return std::nullopt;
    }
    const std::vector<double> marks = geometry::plain_marks(nodes.size());
    Lowest lowest;
    for (const OffsetRow* const row : {&left, &right}) {
        offer_face(lowest, corners, marks, *row);
    }
    return lowest.found();
}

LowLine low_line_of_part(const Job& job, const CarModel& car, const std::vector<std::optional<Loft>>& lines) {
    LowLine line;
    if (car.pieces.empty()) {
        line.missing.emplace_back("the skirt");
    }
    if (!job.skirt.paint) {
        line.missing.emplace_back("paint film on the part");
    }
    const std::optional<Entry> film = job.skirt.paint ? job.skirt.paint : Entry{};
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        const Piece& piece = job.skirt.pieces[i];
        line.missing.insert(line.missing.end(), car.pieces[i].missing.begin(), car.pieces[i].missing.end());
        if (piece.file) {
            if (car.pieces[i].body) {
                add_mesh(line, car.pieces[i].body->mesh, i, in_mm(film->value));
            }
            continue;
        }
        if (!lines[i]) {
            continue;
        }
        const FormedSheet* const formed = car.pieces[i].formed.get();
        const auto outside = outward_law(piece, *lines[i], formed, film, Surface::painted_outside);
        const auto inside = outward_law(piece, *lines[i], formed, film, Surface::inside);
        if (outside && inside) {
            add_loft(line, *lines[i], i, *outside, *inside);
        }
    }
    std::stable_sort(line.points.begin(), line.points.end(),
                     [](const LowPoint& a, const LowPoint& b) { return a.p_mm.x() < b.p_mm.x(); });
    return line;
}

LowLine low_line_of_part(const Job& job, const CarModel& car) {
    std::vector<std::optional<Loft>> lines;
    for (const PieceModel& piece : car.pieces) {
        lines.push_back(piece.line);
    }
    return low_line_of_part(job, car, lines);
}

LowLine low_line_of_body(const CarModel& car) {
    LowLine line;
    line.missing = car.missing_body;
    if (car.body) {
        add_loft(line, *car.body, std::nullopt, OffsetLaw::same(Length{}), OffsetLaw::same(Length{}));
    }
    return line;
}

}  // namespace sillwright::core
