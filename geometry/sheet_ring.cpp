#include "geometry/sheet_ring.h"

#include <algorithm>
#include <cmath>
#include <memory>

#include "geometry/text.h"

namespace sillwright::geometry {

namespace {

/// Places looked at between two key places when chords are counted.
constexpr int k_looks = 8;

Eigen::Vector2d left_of(const Eigen::Vector2d& direction) {
    return {-direction.y(), direction.x()};
}

/// The corners of the loft's section at a place, with room on every face.
Status corners_at(const Loft& loft, Length along, const std::vector<double>& offsets_mm,
                  std::vector<ProfileNode>& nodes, std::vector<Corner>& corners) {
    loft.nodes_at(along, nodes);
    auto status = find_corners(nodes, loft.names(), loft.closed(), corners);
    for (const double offset : offsets_mm) {
        if (status) {
            status = check_room(corners, loft.names(), loft.closed(), offset);
        }
    }
    if (!status) {
        return Error{status.error().code, "At " + loft.place(along) + " " + status.error().message + "."};
    }
    return status;
}

double turn_of(const Corner& corner) {
    return 2.0 * std::atan(corner.tan_half);
}

/// Chords for an arc so that it stands no further than `sagitta_mm` off: r (1 - cos(turn / 2n)).
std::size_t chords_for(const Corner& corner, double offset_mm, double sagitta_mm) {
    const double radius = corner.radius_at(offset_mm);
    if (corner.kind != CornerKind::turn || !(radius > 0.0)) {
        return 0;
    }
    const double step = 2.0 * std::acos(std::max(0.0, 1.0 - sagitta_mm / radius));
    return static_cast<std::size_t>(std::max(1.0, std::ceil(turn_of(corner) / step)));
}

Result<RingLayout> layout(const Loft& loft, const std::vector<double>& offsets_mm, Length sagitta) {
    if (!(sagitta > Length{})) {
        return Error{ErrorCode::invalid_argument, "The tolerance of roundings must be more than zero."};
    }
    std::vector<std::vector<std::size_t>> counts(offsets_mm.size(), std::vector<std::size_t>(loft.names().size(), 0));
    std::vector<ProfileNode> nodes;
    std::vector<Corner> corners;
    const std::vector<Length> keys = loft.key_places();
    for (std::size_t k = 0; k + 1 < keys.size(); ++k) {
        for (int look = 0; look <= k_looks; ++look) {
            const Length along = keys[k] + (static_cast<double>(look) / k_looks) * (keys[k + 1] - keys[k]);
            if (auto status = corners_at(loft, along, offsets_mm, nodes, corners); !status) {
                return status.error();
            }
            for (std::size_t face = 0; face < offsets_mm.size(); ++face) {
                for (std::size_t i = 0; i < corners.size(); ++i) {
                    counts[face][i] =
                        std::max(counts[face][i], chords_for(corners[i], offsets_mm[face], in_mm(sagitta)));
                }
            }
        }
    }
    RingLayout result;
    result.left = counts.front();
    if (counts.size() > 1) {
        result.right = counts.back();
    }
    return result;
}

/// Where a corner's parallel begins; ends of an open chain begin and end at one point.
Eigen::Vector2d start_of(const Corner& c, double offset_mm) {
    return c.p_mm - c.setback_at(offset_mm) * c.before + offset_mm * left_of(c.before);
}

Eigen::Vector2d end_of(const Corner& c, double offset_mm) {
    return c.p_mm + c.setback_at(offset_mm) * c.after + offset_mm * left_of(c.after);
}

/// Writes `count` + 1 points of a corner's arc; returns how far it stands off their chords.
double append_arc(const Corner& c, double offset_mm, std::size_t count, std::vector<Eigen::Vector2d>& points) {
    const double radius = c.radius_at(offset_mm);
    const double turn = turn_of(c);
    const double step = turn / static_cast<double>(count);
    const double cosine = std::cos(step);
    const double sine = c.side * std::sin(step);
    const Eigen::Vector2d first = left_of(c.before);
    const Eigen::Vector2d centre = c.p_mm - c.radius_mm * c.tan_half * c.before + c.side * c.radius_mm * first;
    Eigen::Vector2d arm = -c.side * radius * first;
    points.push_back(start_of(c, offset_mm));
    for (std::size_t k = 1; k < count; ++k) {
        arm = Eigen::Vector2d{cosine * arm.x() - sine * arm.y(), sine * arm.x() + cosine * arm.y()};
        points.push_back(centre + arm);
    }
    points.push_back(end_of(c, offset_mm));
    return radius * (1.0 - std::cos(step / 2.0));
}

/// A node on the straight between corners a and b, kept off their roundings.
Eigen::Vector2d on_straight(const Corner& a, const Corner& b, const Eigen::Vector2d& p_mm, double offset_mm) {
    const double from = a.setback_at(offset_mm);
    const double to = (b.p_mm - a.p_mm).norm() - b.setback_at(offset_mm);
    const double at = std::max(from, std::min((p_mm - a.p_mm).dot(a.after), to));
    return end_of(a, offset_mm) + (at - from) * a.after;
}

std::size_t next_real(const std::vector<Corner>& corners, std::size_t i, std::size_t step) {
    const std::size_t n = corners.size();
    std::size_t k = (i + step) % n;
    while (corners[k].kind == CornerKind::on_straight) {
        k = (k + step) % n;
    }
    return k;
}

/// The one place of a node that has no arc on the parallel.
Eigen::Vector2d point_of(const std::vector<Corner>& corners, std::size_t i, double offset_mm) {
    const Corner& c = corners[i];
    if (c.kind != CornerKind::on_straight) {
        return start_of(c, offset_mm);
    }
    return on_straight(corners[next_real(corners, i, corners.size() - 1)], corners[next_real(corners, i, 1)], c.p_mm,
                       offset_mm);
}

}  // namespace

Length append_parallel(const std::vector<Corner>& corners, double offset_mm, const std::vector<std::size_t>& chords,
                       std::vector<Eigen::Vector2d>& points) {
    assert(!corners.empty());
    const std::size_t n = corners.size();
    double sagitta = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        const Corner& c = corners[i];
        const std::size_t count = chords[i];
        if (c.kind == CornerKind::turn && c.radius_at(offset_mm) > 0.0 && count > 0) {
            sagitta = std::max(sagitta, append_arc(c, offset_mm, count, points));
            continue;
        }
        if (c.kind == CornerKind::turn && c.radius_at(offset_mm) > 0.0) {
            // An arc where the layout knows of none is cut off where it begins.
            sagitta = std::max(sagitta, (end_of(c, offset_mm) - start_of(c, offset_mm)).norm() +
                                            c.radius_at(offset_mm) * (1.0 - std::cos(0.5 * turn_of(c))));
        }
        points.insert(points.end(), count + 1, point_of(corners, i, offset_mm));
    }
    return millimetres(sagitta);
}

namespace {

/// The arc at a node's parallel, without width where there is none.
StripCurve arc_at(const std::vector<Corner>& corners, std::size_t i, double offset_mm) {
    const Corner& c = corners[i];
    if (c.kind != CornerKind::turn || !(c.radius_at(offset_mm) > 0.0)) {
        const Eigen::Vector2d p = point_of(corners, i, offset_mm);
        return {p, p, p, 1.0};
    }
    const Eigen::Vector2d from = start_of(c, offset_mm);
    return {from, from + c.radius_at(offset_mm) * c.tan_half * c.before, end_of(c, offset_mm),
            1.0 / std::sqrt(1.0 + c.tan_half * c.tan_half)};
}

StripCurve straight(const Eigen::Vector2d& from, const Eigen::Vector2d& to) {
    return {from, (from + to) / 2.0, to, 1.0};
}

/// The curves of a face's strips, in the order and direction of add_face.
void append_curves(const std::vector<Corner>& corners, double offset_mm, const std::vector<std::size_t>& chords,
                   bool backwards, bool around, std::vector<StripCurve>& curves) {
    const std::size_t n = corners.size();
    const auto arc = [&](std::size_t k) {
        StripCurve c = arc_at(corners, backwards ? n - 1 - k : k, offset_mm);
        if (backwards) {
            std::swap(c.from_mm, c.to_mm);
        }
        return c;
    };
    for (std::size_t k = 0; k < n; ++k) {
        const StripCurve here = arc(k);
        if (chords[backwards ? n - 1 - k : k] > 0) {
            curves.push_back(here);
        }
        if (k + 1 < n || around) {
            curves.push_back(straight(here.to_mm, arc((k + 1) % n).from_mm));
        }
    }
}

/// Adds a face's strips: an arc for every node that has chords, a line between neighbours.
void add_face(std::vector<RingStrip>& strips, RingFace face, const std::vector<std::size_t>& chords,
              const std::vector<std::size_t>& order, std::size_t& segment) {
    const auto add = [&](StripShape shape, std::size_t from, std::size_t to, std::size_t count) {
        if (count > 0) {
            strips.push_back({face, shape, from, to, segment, count});
            segment += count;
        }
    };
    for (std::size_t k = 0; k < order.size(); ++k) {
        add(StripShape::arc, order[k], order[k], chords[order[k]]);
        if (k + 1 < order.size()) {
            add(StripShape::line, order[k], order[k + 1], 1);
        }
    }
}

std::vector<std::size_t> rising(std::size_t n) {
    std::vector<std::size_t> order(n);
    for (std::size_t i = 0; i < n; ++i) {
        order[i] = i;
    }
    return order;
}

std::size_t points_of(const std::vector<std::size_t>& chords) {
    std::size_t points = 0;
    for (const std::size_t count : chords) {
        points += count + 1;
    }
    return points;
}

Status check_faces(const Loft& loft, const SheetFaces& faces) {
    if (loft.closed()) {
        return Error{ErrorCode::invalid_argument, "A sheet is made from an open line, not from a closed outline."};
    }
    if (!(faces.left > faces.right)) {
        return Error{ErrorCode::invalid_argument, "A sheet's left face (" + text(faces.left) +
                                                      ") must lie to the left of its right face (" + text(faces.right) +
                                                      "); the thickness must be more than zero."};
    }
    return std::monostate{};
}

}  // namespace

Result<RingLayout> layout_of_sheet(const Loft& loft, const SheetFaces& faces, Length sagitta) {
    if (auto status = check_faces(loft, faces); !status) {
        return status.error();
    }
    return layout(loft, {in_mm(faces.left), in_mm(faces.right)}, sagitta);
}

Result<RingBody> sheet_ring(const Loft& loft, const SheetFaces& faces, const RingLayout& layout) {
    if (auto status = check_faces(loft, faces); !status) {
        return status.error();
    }
    const std::size_t n = loft.names().size();
    if (layout.left.size() != n || layout.right.size() != n) {
        return Error{ErrorCode::invalid_argument, "The layout of the outline was made for another body."};
    }
    RingBody body;
    body.key_places = loft.key_places();
    body.run_outs = loft.run_out_places();
    body.point_count = points_of(layout.left) + points_of(layout.right);
    std::size_t segment = 0;
    const std::vector<std::size_t> order = rising(n);
    const std::vector<std::size_t> back(order.rbegin(), order.rend());
    const RingFace right_is = faces.left_is == RingFace::outside ? RingFace::inside : RingFace::outside;
    add_face(body.strips, faces.left_is, layout.left, order, segment);
    body.strips.push_back({RingFace::edge, StripShape::line, n - 1, n - 1, segment++, 1});
    add_face(body.strips, right_is, layout.right, back, segment);
    body.strips.push_back({RingFace::edge, StripShape::line, 0, 0, segment++, 1});

    struct Work {
        std::vector<ProfileNode> nodes;
        std::vector<Corner> corners;
        std::vector<Eigen::Vector2d> right;
    };
    body.outline = [loft = std::make_shared<const Loft>(loft), faces, layout, work = Work{}](
                       Length along, Ring& ring) mutable -> Status {
        const double left = in_mm(faces.left);
        const double right = in_mm(faces.right);
        if (auto status = corners_at(*loft, along, {left, right}, work.nodes, work.corners); !status) {
            return status;
        }
        ring.points_mm.clear();
        work.right.clear();
        const Length outer = append_parallel(work.corners, left, layout.left, ring.points_mm);
        const Length inner = append_parallel(work.corners, right, layout.right, work.right);
        ring.points_mm.insert(ring.points_mm.end(), work.right.rbegin(), work.right.rend());
        ring.sagitta = std::max(outer, inner);
        return std::monostate{};
    };
    body.curves = [loft = std::make_shared<const Loft>(loft), faces, layout, work = Work{}](
                      Length along, std::vector<StripCurve>& curves) mutable -> Status {
        const double left = in_mm(faces.left);
        const double right = in_mm(faces.right);
        if (auto status = corners_at(*loft, along, {left, right}, work.nodes, work.corners); !status) {
            return status;
        }
        curves.clear();
        append_curves(work.corners, left, layout.left, false, false, curves);
        const std::size_t edge = curves.size();
        curves.emplace_back();
        append_curves(work.corners, right, layout.right, true, false, curves);
        curves[edge] = straight(curves[edge - 1].to_mm, curves[edge + 1].from_mm);
        curves.push_back(straight(curves.back().to_mm, curves.front().from_mm));
        return std::monostate{};
    };
    return body;
}

Result<RingLayout> layout_of_solid(const Loft& loft, Length sagitta) {
    return layout(loft, {0.0}, sagitta);
}

Result<RingBody> solid_ring(const Loft& loft, const RingLayout& layout) {
    const std::size_t n = loft.names().size();
    if (!loft.closed()) {
        return Error{ErrorCode::invalid_argument, "A solid is made from a closed outline, not from an open line."};
    }
    if (layout.left.size() != n) {
        return Error{ErrorCode::invalid_argument, "The layout of the outline was made for another body."};
    }
    RingBody body;
    body.key_places = loft.key_places();
    body.run_outs = loft.run_out_places();
    body.point_count = points_of(layout.left);
    std::size_t segment = 0;
    add_face(body.strips, RingFace::outside, layout.left, rising(n), segment);
    body.strips.push_back({RingFace::outside, StripShape::line, n - 1, 0, segment++, 1});

    struct Work {
        std::vector<ProfileNode> nodes;
        std::vector<Corner> corners;
    };
    body.outline = [loft = std::make_shared<const Loft>(loft), layout, work = Work{}](Length along,
                                                                                      Ring& ring) mutable -> Status {
        if (auto status = corners_at(*loft, along, {0.0}, work.nodes, work.corners); !status) {
            return status;
        }
        ring.points_mm.clear();
        ring.sagitta = append_parallel(work.corners, 0.0, layout.left, ring.points_mm);
        return std::monostate{};
    };
    body.curves = [loft = std::make_shared<const Loft>(loft), layout, work = Work{}](
                      Length along, std::vector<StripCurve>& curves) mutable -> Status {
        if (auto status = corners_at(*loft, along, {0.0}, work.nodes, work.corners); !status) {
            return status;
        }
        curves.clear();
        append_curves(work.corners, 0.0, layout.left, false, true, curves);
        return std::monostate{};
    };
    return body;
}

}  // namespace sillwright::geometry
