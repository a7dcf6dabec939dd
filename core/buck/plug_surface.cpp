#include "core/buck/plug_surface.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "core/forming/mould_section.h"
#include "core/skirt/flange_face.h"
#include "geometry/corner.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Corner;
using geometry::CornerKind;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::OffsetLaw;
using geometry::OffsetRow;
using geometry::ProfileNode;
using geometry::Result;
using geometry::Status;

namespace {

/// Two points of a rounding stand no further apart: an arc of 20 mm through every third of them is one to 1e-9.
constexpr double k_point_turn = 6.0 * std::numbers::pi / 180.0;
constexpr std::size_t k_least_chords = 4;
constexpr std::size_t k_corner_chords = 6;  ///< Of the fold between face and wall.
/// Neighbouring sections from which the surface's lean along the car is taken: so near that no guide line's bend
/// matters, so far that rounding does not.
constexpr double k_look_mm = 0.25;
/// Sections stand further apart where the skin's thickness leads further away than they are.
constexpr double k_look_room = 1.2;
/// Iterations of x for a point; each gains three digits, so five do.
constexpr int k_most_rounds = 20;
constexpr double k_same_x_mm = 1e-10;
/// Shorter ones have no direction.
constexpr double k_short_mm = 1e-9;
/// Where a straight is looked at, and in between.
constexpr std::array<double, 3> k_parts{0.25, 0.5, 0.75};
constexpr std::array<double, 4> k_between_parts{0.125, 0.375, 0.625, 0.875};
/// The law of the sheet's thickness is met to this.
constexpr Length k_law_fit = millimetres(0.001);
/// Parts of a straight that are nearer to each other are one.
constexpr double k_same_part = 1e-4;

Vector2d left_of(const Vector2d& way) {
    return {-way.y(), way.x()};
}

Vector2d rotated(const Vector2d& v, double by) {
    return {std::cos(by) * v.x() - std::sin(by) * v.y(), std::sin(by) * v.x() + std::cos(by) * v.y()};
}

/// Signed turn from one unit vector to another.
double turn_between(const Vector2d& a, const Vector2d& b) {
    return std::atan2(a.x() * b.y() - a.y() * b.x(), a.dot(b));
}

void lay_flat(std::vector<ProfileNode>& nodes, std::size_t root) {
    const Vector2d before = nodes[root].p_mm - nodes[root - 1].p_mm;
    if (before.norm() > k_short_mm) {
        nodes[root + 1].p_mm =
            nodes[root].p_mm + (nodes[root + 1].p_mm - nodes[root].p_mm).norm() * before.normalized();
    }
}

void add_parts(std::vector<double>& parts, const double* from, const double* to) {
    for (; from != to; ++from) {
        const auto near = [&](double other) { return std::abs(other - *from) < k_same_part; };
        if (std::none_of(parts.begin(), parts.end(), near)) {
            parts.push_back(*from);
        }
    }
    std::sort(parts.begin(), parts.end());
}

/// Derivative at `i` of equally or unequally spaced points p[first..last] by the parabola through three neighbours.
Vector2d way_at(const std::vector<Vector2d>& p, std::size_t first, std::size_t last, std::size_t i) {
    if (last == first) {
        return Vector2d::Zero();
    }
    if (last == first + 1) {
        return p[last] - p[first];
    }
    const std::size_t m = std::clamp(i, first + 1, last - 1);
    const double h = (p[m] - p[m - 1]).norm();
    const double k = (p[m + 1] - p[m]).norm();
    if (h < k_short_mm || k < k_short_mm) {
        return p[last] - p[first];
    }
    const Vector2d a = (p[m] - p[m - 1]) / h;
    const Vector2d b = (p[m + 1] - p[m]) / k;
    const Vector2d bend = (b - a) / (h + k);
    return i < m ? Vector2d(a - h * bend) : i > m ? Vector2d(b + k * bend) : Vector2d(a + h * bend);
}

}  // namespace

PlugSurface::PlugSurface(const Piece& piece, const Loft& line, OffsetLaw mould_face, const PlugMaking& making)
    : line_{&line}, law_{std::move(mould_face)}, making_{making}, marks_{geometry::plain_marks(line.names().size())} {
    const auto& names = line.names();
    const auto root = static_cast<std::size_t>(std::find(names.begin(), names.end(), k_flange_root) - names.begin());
    if (piece.flange.making == FlangeMaking::bent_after && root > 0 && root + 1 < names.size() &&
        names[root + 1] == k_flange_end) {
        flange_root_ = root;
    }
    first_upright_ = end_lean(true) > in_rad(k_lean_most);
    last_upright_ = end_lean(false) > in_rad(k_lean_most);
}

double PlugSurface::end_lean(bool first) const {
    const Vector2d draw(std::cos(in_rad(making_.tilt)), std::sin(in_rad(making_.tilt)));
    double most = 0.0;
    std::vector<Corner> corners;
    OffsetRow offsets;
    for (const auto& drawn : line_->sections()) {
        if (corners_at(drawn.along, corners, offsets)) {
            const Vector2d way = first ? Vector2d(-corners.front().after) : corners.back().before;
            most = std::max(most, std::acos(std::clamp(-way.dot(draw), -1.0, 1.0)));
        }
    }
    return most;
}

double PlugSurface::length_mm() const {
    return x_mm(line_->rear());
}

double PlugSurface::x_mm(Length along) const {
    return making_.along_size * in_mm(along - line_->front());
}

Length PlugSurface::along(double x_mm) const {
    return line_->front() + millimetres(x_mm / making_.along_size);
}

Vector2d PlugSurface::turned(const Vector2d& out_up) const {
    const double s = std::sin(in_rad(making_.tilt));
    const double c = std::cos(in_rad(making_.tilt));
    return {-s * out_up.x() + c * out_up.y(), c * out_up.x() + s * out_up.y()};
}

Status PlugSurface::corners_at(Length along, std::vector<Corner>& corners, OffsetRow& offsets) const {
    std::vector<ProfileNode> nodes = line_->nodes_at(along);
    if (flange_root_ > 0) {
        lay_flat(nodes, flange_root_);
    }
    law_.at(along, offsets);
    const auto [least, most] = std::minmax_element(offsets.mm.begin(), offsets.mm.end());
    auto status = geometry::find_corners(nodes, line_->names(), false, corners);
    for (const double offset : {*least, *most}) {
        if (status) {
            status = geometry::check_room(corners, line_->names(), false, offset);
        }
    }
    return status;
}

Result<PlugLayout> PlugSurface::layout(double x_mm, bool between) const {
    std::vector<Corner> corners;
    OffsetRow offsets;
    if (const auto status = corners_at(along(x_mm), corners, offsets); !status) {
        return status.error();
    }
    PlugLayout made;
    if (!law_.is_same()) {
        geometry::widen(made.face, corners, marks_, offsets, k_law_fit);
    }
    made.face.chords.assign(corners.size(), 0);
    made.face.parts.resize(corners.size() - 1);
    for (std::size_t i = 1; i + 1 < corners.size(); ++i) {
        const double turn = 2.0 * std::atan(corners[i].tan_half);
        made.face.chords[i] =
            std::max(k_least_chords, static_cast<std::size_t>(std::ceil(turn / k_point_turn))) + (between ? 1 : 0);
    }
    for (auto& parts : made.face.parts) {
        if (between) {
            parts.clear();
            add_parts(parts, k_between_parts.data(), k_between_parts.data() + k_between_parts.size());
        } else {
            add_parts(parts, k_parts.data(), k_parts.data() + k_parts.size());
        }
    }

    const auto& names = line_->names();
    std::size_t at = 0;
    const auto strip = [&](std::string name, bool rounding, std::size_t node, std::size_t points) {
        made.strips.push_back({std::move(name), rounding, node, at, at + points - 1});
        at += points;
    };
    constexpr std::size_t k_wall_points = 3;
    strip("beyond " + names.front(), false, 0, k_wall_points);
    if (first_upright_) {
        strip(names.front(), true, 0, k_corner_chords + 1);
    }
    // A straight has its parts and the ends of the roundings beside it.
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (i > 0 && i + 1 < names.size()) {
            strip(names[i], true, i, made.face.chords[i] + 1);
        }
        if (i + 1 < names.size()) {
            strip(names[i] + " to " + names[i + 1], false, i, made.face.parts[i].size() + 2);
        }
    }
    if (last_upright_) {
        strip(names.back(), true, names.size() - 1, k_corner_chords + 1);
    }
    strip("beyond " + names.back(), false, names.size() - 1, k_wall_points);
    return made;
}

Status PlugSurface::section(Length along, const PlugLayout& layout, Section& made) const {
    std::vector<Corner> corners;
    OffsetRow offsets;
    if (auto status = corners_at(along, corners, offsets); !status) {
        return status;
    }
    std::vector<Vector2d> face;
    geometry::append_varying_parallel(corners, marks_, offsets, layout.face, face);

    made.p_mm.clear();
    made.outward.clear();
    const auto put = [&](const Vector2d& p, const Vector2d& outward) {
        made.p_mm.push_back(p);
        made.outward.push_back(outward);
    };
    const Vector2d draw(std::cos(in_rad(making_.tilt)), std::sin(in_rad(making_.tilt)));
    const double allowance = in_mm(making_.allowance);
    const bool even = law_.is_same();
    // the face, node by node: its rounding, then the straight behind it with the ends of both roundings
    std::size_t at = 0;
    Vector2d way = corners.front().after;
    std::vector<Vector2d> row;
    std::vector<Vector2d> outs;
    const auto put_row = [&] {
        for (std::size_t k = 0; k < row.size(); ++k) {
            Vector2d outward = outs[k];
            if (!even) {  // The face leans from its line as the thickness changes.
                const Vector2d tangent(outward.y(), -outward.x());
                const Vector2d run = way_at(row, 0, row.size() - 1, k);
                const double ahead = run.dot(tangent);
                if (std::abs(ahead) > k_short_mm) {
                    outward = (outward - run.dot(outward) / ahead * tangent).normalized();
                }
            }
            put(row[k], outward);
        }
    };
    Section whole;
    std::swap(whole, made);
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Corner& c = corners[i];
        const std::size_t chords = layout.face.chords[i];
        const bool inner = i > 0 && i + 1 < corners.size();
        if (inner) {
            row.assign(face.begin() + static_cast<std::ptrdiff_t>(at),
                       face.begin() + static_cast<std::ptrdiff_t>(at + chords + 1));
            outs.clear();
            const double turn = c.kind == CornerKind::turn ? c.side * 2.0 * std::atan(c.tan_half) : 0.0;
            for (std::size_t k = 0; k <= chords; ++k) {
                outs.push_back(rotated(left_of(way), turn * static_cast<double>(k) / static_cast<double>(chords)));
            }
            put_row();
        }
        if (c.kind != CornerKind::on_straight) {
            way = c.after;
        }
        if (i + 1 < corners.size()) {
            const std::size_t parts = layout.face.parts[i].size();
            row.assign(face.begin() + static_cast<std::ptrdiff_t>(at + chords),
                       face.begin() + static_cast<std::ptrdiff_t>(at + chords + parts + 2));
            outs.assign(row.size(), left_of(way));
            put_row();
            at += chords + parts + 1;
        }
    }
    std::swap(whole, made);
    const auto wall = [&](const Vector2d& end, const Vector2d& on, const Vector2d& outward, bool from_foot) {
        for (const double part : {0.0, 0.5, 1.0}) {
            put(end + (from_foot ? 1.0 - part : part) * allowance * on, outward);
        }
    };
    const auto fold = [&](const Vector2d& end, const Vector2d& from, const Vector2d& to) {
        const double turn = turn_between(from, to);
        for (std::size_t k = 0; k <= k_corner_chords; ++k) {
            put(end, rotated(from, turn * static_cast<double>(k) / static_cast<double>(k_corner_chords)));
        }
    };
    const auto along_face = [](const Vector2d& outward) { return Vector2d(outward.y(), -outward.x()); };
    const Vector2d first_out = whole.outward.front();
    if (first_upright_) {
        wall(whole.p_mm.front(), -draw, left_of(draw), true);
        fold(whole.p_mm.front(), left_of(draw), first_out);
    } else {
        wall(whole.p_mm.front(), -along_face(first_out), first_out, true);
    }
    made.p_mm.insert(made.p_mm.end(), whole.p_mm.begin(), whole.p_mm.end());
    made.outward.insert(made.outward.end(), whole.outward.begin(), whole.outward.end());
    const Vector2d last_out = whole.outward.back();
    if (last_upright_) {
        fold(whole.p_mm.back(), last_out, left_of(-draw));
        wall(whole.p_mm.back(), -draw, left_of(-draw), false);
    } else {
        wall(whole.p_mm.back(), along_face(last_out), last_out, false);
    }
    for (Vector2d& p : made.p_mm) {
        p = making_.across_size * turned(p);
    }
    for (Vector2d& outward : made.outward) {
        outward = turned(outward);
    }
    return std::monostate{};
}

Result<std::vector<PlugPoint>> PlugSurface::inner(double x_mm, const PlugLayout& layout) const {
    const double skin = in_mm(making_.skin);
    const double front = in_mm(line_->front());
    const double rear = in_mm(line_->rear());
    double look = std::min(k_look_mm, 0.25 * (rear - front));
    std::vector<PlugPoint> points;
    for (const bool again : {false, true}) {
        const double at = in_mm(along(x_mm));
        const double centre = std::clamp(at, front + look, rear - look);
        std::array<Section, 3> near;
        for (std::size_t k = 0; k < near.size(); ++k) {
            const double place = centre + (static_cast<double>(k) - 1.0) * look;
            if (const auto status = section(millimetres(place), layout, near[k]); !status) {
                return status.error();
            }
        }
        points.clear();
        points.reserve(near[1].p_mm.size());
        double furthest = 0.0;
        const double start = (at - centre) / look;
        for (std::size_t i = 0; i < near[1].p_mm.size(); ++i) {
            const Vector2d p_slope = 0.5 * (near[2].p_mm[i] - near[0].p_mm[i]);
            const Vector2d p_bend = near[2].p_mm[i] - 2.0 * near[1].p_mm[i] + near[0].p_mm[i];
            const Vector2d n_slope = 0.5 * (near[2].outward[i] - near[0].outward[i]);
            const Vector2d n_bend = near[2].outward[i] - 2.0 * near[1].outward[i] + near[0].outward[i];
            double u = start;
            PlugPoint point;
            for (int round = 0; round < k_most_rounds; ++round) {
                const Vector2d p = near[1].p_mm[i] + u * p_slope + 0.5 * u * u * p_bend;
                point.outward = (near[1].outward[i] + u * n_slope + 0.5 * u * u * n_bend).normalized();
                point.growth = (p_slope + u * p_bend).dot(point.outward) / (look * making_.along_size);
                const double slant = std::sqrt(1.0 + point.growth * point.growth);
                point.outer_mm = p;
                point.outer_x_mm = making_.along_size * (centre + u * look - front);
                point.at_mm = p - skin / slant * point.outward;
                const double off = point.outer_x_mm + skin * point.growth / slant - x_mm;
                if (std::abs(off) < k_same_x_mm) {
                    break;
                }
                u -= off / (making_.along_size * look);
            }
            furthest = std::max(furthest, std::abs(u) * look);
            points.push_back(point);
        }
        if (again || furthest < 2.0 * look) {
            break;
        }
        look = std::min(k_look_room * furthest, 0.25 * (rear - front));
    }
    return points;
}

}  // namespace sillwright::core
