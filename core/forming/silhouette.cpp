#include "core/forming/silhouette.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/skirt/surface.h"
#include "geometry/corner.h"
#include "geometry/window_fit.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Angle;
using geometry::Corner;
using geometry::CornerKind;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

/// Roundings are turned into chords of this turn: a chord lies 0.2 % of the radius off, 0.02 mm for 9 mm.
constexpr double k_chord_turn = std::numbers::pi / 24.0;

struct Faces {
    double left_mm = 0.0, right_mm = 0.0;
};

Faces faces_of(const Piece& piece) {
    const auto faces = sheet_faces(piece);
    return faces ? Faces{in_mm(faces->left), in_mm(faces->right)} : Faces{};
}

Vector2d left_of(const Vector2d& direction) {
    return {-direction.y(), direction.x()};
}

std::vector<Length> places(const Loft& line) {
    std::vector<Length> all;
    const auto keys = line.key_places();
    for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
        for (int k = 0; k <= k_rows_between; ++k) {
            all.push_back(keys[i] + (keys[i + 1] - keys[i]) * (static_cast<double>(k) / (k_rows_between + 1)));
        }
    }
    all.push_back(keys.back());
    return all;
}

/// The corners of a section; each node an end of its own where the line turns back on itself, which is no section.
std::vector<Corner> corners_at(const Loft& line, Length along) {
    const auto nodes = line.nodes_at(along);
    std::vector<Corner> corners;
    if (!geometry::find_corners(nodes, line.names(), line.closed(), corners)) {
        corners.clear();
        for (const auto& node : nodes) {
            // Two directions square to one another, so that the sheet's thickness counts on all sides.
            Corner bare;
            bare.kind = CornerKind::end;
            bare.p_mm = node.p_mm;
            bare.before = Vector2d::UnitX();
            bare.after = Vector2d::UnitY();
            corners.push_back(bare);
            bare.before = -bare.before;
            bare.after = -bare.after;
            corners.push_back(bare);
        }
    }
    return corners;
}

double setback_of(const Corner& corner) {
    return corner.kind == CornerKind::turn ? corner.radius_mm * corner.tan_half : 0.0;
}

/// The ends of a corner's two straights on both faces: where its rounding begins and ends.
template <class Take>
void each_straight_end(const Corner& corner, const Faces& faces, const Take& take) {
    if (corner.kind == CornerKind::on_straight) {
        return;
    }
    for (const double face : {faces.left_mm, faces.right_mm}) {
        for (const auto& [tangent, sign] : {std::pair{corner.before, -1.0}, std::pair{corner.after, 1.0}}) {
            if (!tangent.isZero()) {
                take(corner.p_mm + sign * setback_of(corner) * tangent + face * left_of(tangent));
            }
        }
    }
}

/// From the corner's beginning towards the middle of its rounding.
Vector2d inward_of(const Corner& corner) {
    return corner.side * left_of(corner.before);
}

Vector2d centre_of(const Corner& corner) {
    return corner.p_mm - setback_of(corner) * corner.before + corner.radius_mm * inward_of(corner);
}

/// How far a chain with two faces reaches in a direction.
///
/// A straight's parallels end where its roundings begin; what a rounding adds is its point whose tangent is square
/// to the direction.
double reach(const std::vector<Corner>& corners, const Faces& faces, const Vector2d& direction) {
    double most = -std::numeric_limits<double>::infinity();
    for (const Corner& corner : corners) {
        each_straight_end(corner, faces, [&](const Vector2d& p) { most = std::max(most, p.dot(direction)); });
        if (corner.kind == CornerKind::turn && corner.before.dot(direction) >= 0.0 &&
            corner.after.dot(direction) <= 0.0) {
            const double radius = std::max(corner.radius_at(faces.left_mm), corner.radius_at(faces.right_mm));
            most = std::max(most, centre_of(corner).dot(direction) + radius);
        }
    }
    return most;
}

/// Points of a section of which the hull is that of its two faces; roundings by chords.
void add_points(const std::vector<Corner>& corners, const Faces& faces, std::vector<Vector2d>& points) {
    for (const Corner& corner : corners) {
        each_straight_end(corner, faces, [&](const Vector2d& p) { points.push_back(p); });
        const double radius = std::max(corner.radius_at(faces.left_mm), corner.radius_at(faces.right_mm));
        if (corner.kind != CornerKind::turn || radius <= 0.0) {
            continue;
        }
        const double turn = 2.0 * std::atan(corner.tan_half);
        const int chords = static_cast<int>(std::ceil(turn / k_chord_turn));
        for (int i = 1; i < chords; ++i) {
            const Eigen::Rotation2Dd turned(corner.side * turn * i / chords);
            points.emplace_back(centre_of(corner) - radius * (turned * inward_of(corner)));
        }
    }
}

SilhouetteRow between(const SilhouetteRow& a, const SilhouetteRow& b, double along_mm) {
    const double part = (along_mm - a.along_mm) / (b.along_mm - a.along_mm);
    return {along_mm, a.low_mm + part * (b.low_mm - a.low_mm), a.high_mm + part * (b.high_mm - a.high_mm)};
}

SilhouetteRow row_at(const Silhouette& seen, double along_mm) {
    const auto& rows = seen.rows;
    const auto next = std::find_if(rows.begin() + 1, rows.end() - 1,
                                   [along_mm](const SilhouetteRow& row) { return row.along_mm >= along_mm; });
    return between(*(next - 1), *next, along_mm);
}

void take_widths(Silhouette& seen) {
    seen.low_mm = std::numeric_limits<double>::infinity();
    seen.high_mm = -seen.low_mm;
    for (const SilhouetteRow& row : seen.rows) {
        seen.low_mm = std::min(seen.low_mm, row.low_mm);
        seen.high_mm = std::max(seen.high_mm, row.high_mm);
    }
}

}  // namespace

Silhouette silhouette(const Piece& piece, const Loft& line, Angle tilt) {
    const Vector2d draw(std::cos(in_rad(tilt)), std::sin(in_rad(tilt)));
    const Vector2d across = left_of(draw);
    const Faces faces = faces_of(piece);
    Silhouette seen;
    seen.crown_mm = -std::numeric_limits<double>::infinity();
    seen.foot_mm = -seen.crown_mm;
    for (const Length along : places(line)) {
        const std::vector<Corner> corners = corners_at(line, along);
        seen.rows.push_back({in_mm(along), -reach(corners, faces, -across), reach(corners, faces, across)});
        seen.crown_mm = std::max(seen.crown_mm, reach(corners, faces, draw));
        seen.foot_mm = std::min(seen.foot_mm, -reach(corners, faces, -draw));
    }
    take_widths(seen);
    return seen;
}

Silhouette stretch_of(const Silhouette& whole, double from_mm, double to_mm) {
    const double from = std::max(from_mm, whole.rows.front().along_mm);
    const double to = std::min(to_mm, whole.rows.back().along_mm);
    Silhouette part = whole;
    part.rows.clear();
    part.rows.push_back(row_at(whole, from));
    for (const SilhouetteRow& row : whole.rows) {
        if (row.along_mm > from && row.along_mm < to) {
            part.rows.push_back(row);
        }
    }
    part.rows.push_back(row_at(whole, to));
    take_widths(part);
    return part;
}

Silhouette strip_of(const Silhouette& whole, double low_mm, double high_mm) {
    Silhouette part = whole;
    for (SilhouetteRow& row : part.rows) {
        row.low_mm = std::clamp(row.low_mm, low_mm, high_mm);
        row.high_mm = std::clamp(row.high_mm, low_mm, high_mm);
    }
    take_widths(part);
    return part;
}

std::vector<Vector2d> outline_of(const Silhouette& seen, double grown_mm) {
    std::vector<Vector2d> outline;
    const SilhouetteRow& front = seen.rows.front();
    const SilhouetteRow& rear = seen.rows.back();
    const bool grown = grown_mm > 0.0;
    const auto low = [&](double along, const SilhouetteRow& row) {
        outline.emplace_back(along, row.low_mm - grown_mm);
    };
    const auto high = [&](double along, const SilhouetteRow& row) {
        outline.emplace_back(along, row.high_mm + grown_mm);
    };
    if (grown) {
        low(front.along_mm - grown_mm, front);
    }
    for (const SilhouetteRow& row : seen.rows) {
        low(row.along_mm, row);
    }
    if (grown) {
        low(rear.along_mm + grown_mm, rear);
        high(rear.along_mm + grown_mm, rear);
    }
    for (auto row = seen.rows.rbegin(); row != seen.rows.rend(); ++row) {
        high(row->along_mm, *row);
    }
    if (grown) {
        high(front.along_mm - grown_mm, front);
    }
    return outline;
}

std::vector<Angle> narrowest_tilts(const Piece& piece, const Loft& line, Angle from, Angle to) {
    const Faces faces = faces_of(piece);
    std::vector<Vector2d> points;
    for (const Length along : places(line)) {
        add_points(corners_at(line, along), faces, points);
    }
    const std::vector<Vector2d> hull = geometry::convex_hull(points);
    std::vector<Angle> tilts{from, to};
    for (std::size_t i = 0; i < hull.size() && hull.size() > 1; ++i) {
        // Seen end-on: the edge lies along the draw direction, either way.
        const Vector2d edge = hull[(i + 1) % hull.size()] - hull[i];
        const Angle tilt = geometry::radians(std::atan(edge.y() / edge.x()));
        if (edge.x() != 0.0 && tilt > from && tilt < to) {
            tilts.push_back(tilt);
        }
    }
    std::sort(tilts.begin(), tilts.end());
    return tilts;
}

}  // namespace sillwright::core
