#include "core/forming/plate_bed.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/skirt/fluted_section.h"
#include "geometry/disc_area.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::ProfileNode;

namespace {

constexpr const char* k_bead = "bead";
constexpr const char* k_knee = "knee";

/// How far a rounding's chords may lie off it.
constexpr double k_chord_mm = 0.02;
/// What lies deeper below the strip than this is never level with it, nor above it, within a plate's reach: strips
/// twist by far less.
constexpr double k_far_below_mm = 20.0;
/// Half the stretch over which a lane's direction is taken.
constexpr double k_direction_mm = 0.5;
/// Nodes nearer to one another than this are one.
constexpr double k_same_mm = 1e-9;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

struct Rounding {
    double setback_mm = 0.0, turn = 0.0;  ///< Turn: to the left.
};

/// An end, or a node without radius or turn, has none.
Rounding rounding_of(const std::vector<ProfileNode>& nodes, std::size_t i) {
    if (i == 0 || i + 1 == nodes.size()) {
        return {};
    }
    const Vector2d before = nodes[i].p_mm - nodes[i - 1].p_mm;
    const Vector2d after = nodes[i + 1].p_mm - nodes[i].p_mm;
    const double turn = std::atan2(cross(before, after), before.dot(after));
    return {in_mm(nodes[i].radius) * std::tan(std::abs(turn) / 2.0), turn};
}

/// The rounding of a node, run through from its neighbour `from` to its other neighbour `to`.
void add_rounding(const std::vector<ProfileNode>& nodes, std::size_t i, std::size_t from, std::size_t to,
                  std::vector<Vector2d>& points) {
    const Rounding rounding = rounding_of(nodes, i);
    const Vector2d back = nodes[from].p_mm - nodes[i].p_mm;
    if (rounding.setback_mm <= k_same_mm || back.norm() <= k_same_mm) {
        points.push_back(nodes[i].p_mm);
        return;
    }
    const Vector2d start = nodes[i].p_mm + rounding.setback_mm * back.normalized();
    const double turn = to > from ? rounding.turn : -rounding.turn;
    const double radius = in_mm(nodes[i].radius);
    const Vector2d way = -back.normalized();
    const Vector2d centre = start + (turn > 0.0 ? radius : -radius) * Vector2d(-way.y(), way.x());
    const double step = 2.0 * std::acos(std::max(0.0, 1.0 - k_chord_mm / radius));
    const int count = std::max(1, static_cast<int>(std::ceil(std::abs(turn) / step)));
    for (int k = 0; k <= count; ++k) {
        points.emplace_back(centre + Eigen::Rotation2Dd(turn * k / count) * (start - centre));
    }
}

/// The line from a strip's end away, from the end of the strip's straight on.
std::vector<Vector2d> away_from(const std::vector<ProfileNode>& nodes, std::size_t end, std::size_t other) {
    std::vector<Vector2d> points;
    const bool forward = end > other;
    std::size_t from = other;
    for (std::size_t i = end;; i = forward ? i + 1 : i - 1) {
        const bool last = forward ? i + 1 == nodes.size() : i == 0;
        if (last) {
            points.push_back(nodes[i].p_mm);
            return points;
        }
        add_rounding(nodes, i, from, forward ? i + 1 : i - 1, points);
        from = i;
    }
}

/// Cuts off what lies far below the strip to the line's end.
void keep_near(const StripAt& strip, std::vector<Vector2d>& points) {
    std::size_t keep = points.size();
    while (keep > 2 && (points[keep - 1] - strip.edge_mm).dot(strip.outside) < -k_far_below_mm &&
           (points[keep - 2] - strip.edge_mm).dot(strip.outside) < -k_far_below_mm) {
        --keep;
    }
    points.resize(keep);
}

StripAt strip_of_nodes(const std::vector<ProfileNode>& nodes, const Strip& strip) {
    StripAt at;
    at.edge_mm = nodes[strip.edge].p_mm;
    const Vector2d way = nodes[strip.far].p_mm - at.edge_mm;
    at.length_mm = way.norm();
    at.inward = at.length_mm > k_same_mm ? Vector2d(way / at.length_mm) : Vector2d(-1.0, 0.0);
    const Vector2d run = strip.far > strip.edge ? at.inward : Vector2d(-at.inward);  // as the line is drawn
    at.outside = {-run.y(), run.x()};
    at.free_from_mm = rounding_of(nodes, strip.edge).setback_mm;
    at.free_to_mm = at.length_mm - rounding_of(nodes, strip.far).setback_mm;
    return at;
}

/// Seen square to the plate: u along the lane, v inward, h out of the plug.
struct PlatePlane {
    Vector3d origin, u, v, h;

    [[nodiscard]] Vector3d seen(double along, const Vector2d& p) const {
        const Vector3d way = Vector3d(along, p.x(), p.y()) - origin;
        return {way.dot(u), way.dot(v), way.dot(h)};
    }
};

double distance_to_segment(const Vector2d& a, const Vector2d& b) {
    const Vector2d way = b - a;
    const double squared = way.squaredNorm();
    const double part = squared > 0.0 ? std::clamp(-a.dot(way) / squared, 0.0, 1.0) : 0.0;
    return (a + part * way).norm();
}

/// One section of one side, in the plate's plane; `v` grows away from the strip.
struct Seen {
    Vector2d level;                 ///< Where it stops being level.
    double top = 0.0;               ///< Greatest height.
    Vector2d top_at;                ///< In the plane.
    std::optional<Vector2d> front;  ///< The upstand's point that is nearest to the strip.
};

Seen look(const PlatePlane& plane, double along, const std::vector<Vector2d>& points, double sign) {
    constexpr double k_high = in_mm(PlateBed::k_level);
    Seen seen;
    seen.top = -std::numeric_limits<double>::infinity();
    bool level = true;
    Vector3d before = Vector3d::Zero();
    const auto front_at = [&](const Vector2d& p) {
        if (!seen.front || sign * p.y() < sign * seen.front->y()) {
            seen.front = p;
        }
    };
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vector3d here = plane.seen(along, points[i]);
        const Vector2d flat = here.head<2>();
        if (i == 0) {
            seen.level = flat;  // The strip's own end bears, twisted or not.
        } else {
            if (level && std::abs(here.z()) <= k_high) {
                if (sign * flat.y() > sign * seen.level.y()) {
                    seen.level = flat;
                }
            } else if (level) {
                level = false;
                const double limit = here.z() > 0.0 ? k_high : -k_high;
                if (std::abs(before.z()) <= k_high) {
                    const double part = (limit - before.z()) / (here.z() - before.z());
                    const Vector2d stops = before.head<2>() + part * (flat - before.head<2>());
                    if (sign * stops.y() > sign * seen.level.y()) {
                        seen.level = stops;
                    }
                }
            }
            if ((before.z() > k_high) != (here.z() > k_high)) {
                const double part = (k_high - before.z()) / (here.z() - before.z());
                front_at(before.head<2>() + part * (flat - before.head<2>()));
            }
        }
        if (here.z() > k_high) {
            front_at(flat);
        }
        if (here.z() > seen.top) {
            seen.top = here.z();
            seen.top_at = flat;
        }
        before = here;
    }
    return seen;
}

/// Nearest of an upstand on one side, section by section; no value without one.
std::optional<double> nearest_upstand(const std::vector<Seen>& sections) {
    constexpr double k_high = in_mm(PlateBed::k_level);
    std::optional<double> nearest;
    const auto offer = [&](double distance) { nearest = nearest ? std::min(*nearest, distance) : distance; };
    for (std::size_t i = 0; i < sections.size(); ++i) {
        const Seen& here = sections[i];
        if (here.front) {
            offer(here.front->norm());
        }
        if (i == 0) {
            continue;
        }
        const Seen& before = sections[i - 1];
        if (before.front && here.front) {
            offer(distance_to_segment(*before.front, *here.front));
        } else if (before.front || here.front) {
            // It begins on the way: where its top comes through the level.
            const Seen& high = here.front ? here : before;
            const Seen& low = here.front ? before : here;
            const double part = std::clamp((k_high - low.top) / (high.top - low.top), 0.0, 1.0);
            const Vector2d begins(low.top_at.x() + part * (high.front->x() - low.top_at.x()), high.front->y());
            offer(distance_to_segment(begins, *high.front));
        }
    }
    return nearest;
}

}  // namespace

std::optional<Strip> strip_of(const Loft& line, RecessFace face) {
    const std::vector<std::string>& names = line.names();
    const auto number = [&](const char* name) {
        return static_cast<std::size_t>(std::find(names.begin(), names.end(), name) - names.begin());
    };
    const bool shelf = face == RecessFace::shelf;
    const std::size_t first = number(shelf ? k_shelf_inner : k_bead);
    const std::size_t second = number(shelf ? k_shelf_edge : k_knee);
    if (first >= names.size() || second != first + 1 || second >= names.size()) {
        return std::nullopt;
    }
    return shelf ? Strip{second, first} : Strip{first, second};
}

StripAt strip_at(const Loft& line, const Strip& strip, Length along) {
    return strip_of_nodes(line.nodes_at(along), strip);
}

PlateBed::Cut PlateBed::cut_at(const Piece& piece, Length along) const {
    const std::vector<ProfileNode> nodes = line_->nodes_at(along);
    const StripAt strip = strip_of_nodes(nodes, strip_);
    Cut cut;
    cut.along_mm = in_mm(along);
    cut.edge_side_mm = away_from(nodes, strip_.edge, strip_.far);
    cut.far_side_mm = away_from(nodes, strip_.far, strip_.edge);
    const bool closed =
        (piece.front_closed && along == line_->front()) || (piece.rear_closed && along == line_->rear());
    if (closed) {
        // The end's plate goes straight from the line's last point to its first.
        cut.far_side_mm.push_back(strip_.far < strip_.edge ? nodes.back().p_mm : nodes.front().p_mm);
    }
    keep_near(strip, cut.edge_side_mm);
    keep_near(strip, cut.far_side_mm);
    return cut;
}

PlateBed::PlateBed(const Piece& piece, const Loft& line, Strip strip) : line_{&line}, strip_{strip} {
    const std::vector<Length> keys = line.key_places();
    for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
        const int count = std::max(1, static_cast<int>(std::ceil(in_mm(keys[i + 1] - keys[i]) / k_pitch_mm)));
        for (int k = 0; k < count; ++k) {
            cuts_.push_back(cut_at(piece, keys[i] + (static_cast<double>(k) / count) * (keys[i + 1] - keys[i])));
        }
    }
    cuts_.push_back(cut_at(piece, keys.back()));
}

PlateStand PlateBed::stand_at(const PlateAsk& ask) const {
    const Length along = ask.along;
    const Length offset = ask.offset;
    const StripAt here = strip_at(*line_, strip_, along);
    PlateStand stand;
    stand.middle_mm = here.edge_mm + in_mm(offset) * here.inward;
    const Length from = std::max(line_->front(), along - millimetres(k_direction_mm));
    const Length to = std::min(line_->rear(), along + millimetres(k_direction_mm));
    const StripAt before = strip_at(*line_, strip_, from);
    const StripAt behind = strip_at(*line_, strip_, to);
    const Vector2d drift =
        behind.edge_mm + in_mm(offset) * behind.inward - before.edge_mm - in_mm(offset) * before.inward;
    PlatePlane plane;
    plane.origin = {in_mm(along), stand.middle_mm.x(), stand.middle_mm.y()};
    plane.u = Vector3d(in_mm(to - from), drift.x(), drift.y()).normalized();
    const Vector3d inward(0.0, here.inward.x(), here.inward.y());
    plane.v = (inward - inward.dot(plane.u) * plane.u).normalized();
    plane.h = plane.u.cross(plane.v);
    if (plane.h.dot(Vector3d(0.0, here.outside.x(), here.outside.y())) < 0.0) {
        plane.h = -plane.h;
    }
    // One section beyond what is looked at, at either end, so that what lies between is seen.
    const double reach = in_mm(ask.look) + 2.0 * k_pitch_mm;
    std::vector<Seen> edge_side;
    std::vector<Seen> far_side;
    for (const Cut& cut : cuts_) {
        if (std::abs(cut.along_mm - in_mm(along)) <= reach) {
            edge_side.push_back(look(plane, cut.along_mm, cut.edge_side_mm, -1.0));
            far_side.push_back(look(plane, cut.along_mm, cut.far_side_mm, 1.0));
        }
    }
    const auto at_edge = nearest_upstand(edge_side);
    const auto at_far = nearest_upstand(far_side);
    stand.room_is_far = at_far && (!at_edge || *at_far < *at_edge);
    if (const auto least = stand.room_is_far ? at_far : at_edge; least && *least <= in_mm(ask.look)) {
        stand.room = millimetres(*least);
    } else {
        stand.room_is_far = false;
    }
    std::vector<Vector2d> edge_line;
    std::vector<Vector2d> level;
    for (const Seen& seen : edge_side) {
        edge_line.push_back(seen.level);
    }
    for (const Seen& seen : far_side) {
        level.push_back(seen.level);
    }
    const double radius = in_mm(ask.base_radius);
    for (std::vector<Vector2d>* line : {&edge_line, &level}) {
        if (ask.front_goes_on && cuts_.front().along_mm >= in_mm(along) - reach) {
            line->insert(line->begin(), line->front() - Vector2d(2.0 * radius, 0.0));
        }
        if (ask.rear_goes_on && cuts_.back().along_mm <= in_mm(along) + reach) {
            line->push_back(line->back() + Vector2d(2.0 * radius, 0.0));
        }
    }
    level.insert(level.end(), edge_line.rbegin(), edge_line.rend());
    stand.bearing = geometry::disc_over_polygon_mm2(level, Vector2d::Zero(), ask.base_radius) /
                    (std::numbers::pi * radius * radius);
    return stand;
}

}  // namespace sillwright::core
