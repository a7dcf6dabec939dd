#include "core/forming/mould_section.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "core/drawn_loft.h"
#include "core/number_text.h"
#include "core/skirt/flange_face.h"
#include "core/skirt/surface.h"
#include "geometry/corner.h"

namespace sillwright::core {

using Eigen::Rotation2Dd;
using Eigen::Vector2d;
using geometry::Angle;
using geometry::Corner;
using geometry::CornerKind;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::ProfileNode;
using geometry::Result;

namespace {

/// Parts of a mould shorter than this are left out: far below what is made.
constexpr double k_short_mm = 1e-6;

struct Marked {
    Vector2d p;
    double mark;
};

Vector2d left_of(const Vector2d& way) {
    return {-way.y(), way.x()};
}

/// A flange that is bent after lies flat on while the part is formed.
void lay_flat(std::vector<ProfileNode>& nodes, const std::vector<std::string>& names) {
    const auto root = static_cast<std::size_t>(std::find(names.begin(), names.end(), k_flange_root) - names.begin());
    if (root == 0 || root + 1 >= names.size() || names[root + 1] != k_flange_end) {
        return;
    }
    const Vector2d before = nodes[root].p_mm - nodes[root - 1].p_mm;
    if (before.norm() > k_short_mm) {
        nodes[root + 1].p_mm =
            nodes[root].p_mm + (nodes[root + 1].p_mm - nodes[root].p_mm).norm() * before.normalized();
    }
}

/// Where the parallels of the two straights at a corner meet.
Vector2d shifted(const Corner& corner, double offset_mm) {
    const Vector2d before = left_of(corner.before);
    const Vector2d after = left_of(corner.after);
    if (corner.kind == CornerKind::turn) {
        return corner.p_mm + offset_mm / (1.0 + before.dot(after)) * (before + after);
    }
    return corner.p_mm + offset_mm * (corner.before.isZero() ? after : before);
}

/// The parallel of the drawn line, from its first to its last node.
std::vector<Marked> face_points(const std::vector<ProfileNode>& nodes, const std::vector<Corner>& corners,
                                double offset_mm, Angle chord_turn) {
    std::vector<Marked> points;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Corner& corner = corners[i];
        const Vector2d apex = shifted(corner, offset_mm);
        const auto mark = static_cast<double>(i);
        const double radius = corner.radius_at(offset_mm);
        if (corner.kind != CornerKind::turn || radius < k_short_mm) {
            const bool doubled =
                corner.kind == CornerKind::on_straight && corner.before.dot(corner.after) < 1.0 - k_short_mm;
            if (!doubled) {
                points.push_back({apex, mark});
            }
            continue;
        }
        const double setback = radius * corner.tan_half;
        const double turn = 2.0 * std::atan(corner.tan_half);
        const Vector2d start = apex - setback * corner.before;
        const Vector2d centre = start + radius * corner.side * left_of(corner.before);
        // the drawn rounding's ends are the marks of the parallel's too
        const double drawn = corner.radius_mm * corner.tan_half;
        const double ahead = i == 0 ? 0.0 : drawn / std::max((nodes[i].p_mm - nodes[i - 1].p_mm).norm(), drawn);
        const double behind =
            i + 1 == nodes.size() ? 0.0 : drawn / std::max((nodes[i + 1].p_mm - nodes[i].p_mm).norm(), drawn);
        const int half_chords = std::max(1, static_cast<int>(std::ceil(0.5 * turn / in_rad(chord_turn))));
        for (int k = -half_chords; k <= half_chords; ++k) {
            const double part = static_cast<double>(k) / half_chords;
            const Rotation2Dd by(corner.side * 0.5 * turn * (1.0 + part));
            points.push_back({centre + by * (start - centre), mark + part * (k < 0 ? ahead : behind)});
        }
    }
    return points;
}

/// What the mould goes on by beyond an end, to the foot.
struct Wall {
    Vector2d way, end;
};

Wall wall_beyond(const Vector2d& end, Vector2d way, const Vector2d& draw, double allowance_mm) {
    if (way.dot(-draw) < std::cos(in_rad(k_lean_most))) {
        way = -draw;
    }
    return {way, end + allowance_mm * way};
}

void to_foot(Wall& wall, const Vector2d& draw, double foot) {
    const double above = wall.end.dot(draw) - foot;
    wall.end += above / -wall.way.dot(draw) * wall.way;
}

Error at_place(const Job& job, Length along, const std::string& words) {
    return Error{ErrorCode::does_not_fit,
                 "The sheet cannot be formed " + at_place_words(job, along) + ": " + words + "."};
}

}  // namespace

double MouldSection::at_mark(double mark) const {
    const auto behind = std::upper_bound(anchors.begin(), anchors.end(), mark,
                                         [](double at, const Anchor& anchor) { return at < anchor.mark; });
    if (behind == anchors.begin()) {
        return behind->at_mm;
    }
    const auto before = behind - 1;
    return behind == anchors.end()
               ? before->at_mm
               : std::lerp(before->at_mm, behind->at_mm, (mark - before->mark) / (behind->mark - before->mark));
}

Result<MouldSection> mould_section(const Job& job, const Piece& piece, const Loft& line, Length along, Angle tilt,
                                   Angle chord_turn) {
    const bool male = *job.forming.mould == MouldKind::male;
    const Vector2d draw(std::cos(in_rad(tilt)), std::sin(in_rad(tilt)));
    std::vector<ProfileNode> nodes = line.nodes_at(along);
    if (piece.flange.making == FlangeMaking::bent_after) {
        lay_flat(nodes, line.names());
    }
    const double offset_mm = in_mm(*outward_offset(piece, {}, male ? Surface::inside : Surface::outside));
    std::vector<Corner> corners;
    if (const auto found = find_corners(nodes, line.names(), false, corners); !found) {
        return at_place(job, along, found.error().message);
    }
    if (const auto room = check_room(corners, line.names(), false, offset_mm); !room) {
        return at_place(job, along, room.error().message);
    }
    std::vector<Marked> face = face_points(nodes, corners, offset_mm, chord_turn);

    const double allowance_mm = in_mm(job.forming.trim_allowance.value);
    const auto leaves = [&](const Marked& end, const Marked& before) {
        return Vector2d((end.p - before.p).normalized());
    };
    Wall first = wall_beyond(face.front().p, leaves(face.front(), face[1]), draw, allowance_mm);
    Wall last = wall_beyond(face.back().p, leaves(face.back(), face[face.size() - 2]), draw, allowance_mm);
    const double foot = std::min(first.end.dot(draw), last.end.dot(draw));
    to_foot(first, draw, foot);
    to_foot(last, draw, foot);

    const Vector2d up = male ? draw : Vector2d(-draw);
    const Vector2d across = -left_of(up);
    const auto in_frame = [&](const Vector2d& p) { return Vector2d(p.dot(across), p.dot(up)); };
    if (!male) {
        std::reverse(face.begin(), face.end());
        std::swap(first, last);
    }
    const Vector2d clamp(in_mm(job.forming.clamp_distance->value), 0.0);
    Vector2d left = in_frame(first.end);
    Vector2d right = in_frame(last.end);
    left.y() = right.y() = male ? foot : -foot;
    if (right.x() - left.x() < k_short_mm) {
        return at_place(job, along,
                        "its two walls, gone on beyond the trim lines, meet above the mould's foot; bring the ends "
                        "further apart or make the trim allowance smaller");
    }
    MouldSection section;
    const auto add = [&](const Vector2d& p) {
        auto& points = section.mould_mm;
        auto& running = section.running_mm;
        const double step = points.empty() ? 0.0 : (p - points.back()).norm();
        if (points.empty() || step > k_short_mm) {
            running.push_back(points.empty() ? 0.0 : running.back() + step);
            points.push_back(p);
        }
    };
    add(left - clamp);
    add(left);
    for (const Marked& point : face) {
        add(in_frame(point.p));
        section.anchors.push_back({point.mark, section.running_mm.back()});
    }
    add(right);
    add(right + clamp);
    if (!male) {
        std::reverse(section.anchors.begin(), section.anchors.end());
    }
    const double left_clamp = section.mould_mm.front().x();
    const double right_clamp = section.mould_mm.back().x();
    double beyond = 0.0;
    for (const Vector2d& p : section.mould_mm) {
        if (p.y() > left.y()) {
            beyond = std::max({beyond, left_clamp - p.x() + k_short_mm, p.x() - right_clamp + k_short_mm});
        }
    }
    if (beyond > k_short_mm) {
        return at_place(job, along,
                        "the mould stands " + mm_text(millimetres(beyond)) +
                            " beyond the clamp line; make the clamp distance greater by more than that");
    }
    return section;
}

}  // namespace sillwright::core
