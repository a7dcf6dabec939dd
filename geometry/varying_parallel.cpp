#include "geometry/varying_parallel.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>
#include <numbers>

namespace sillwright::geometry {

namespace {

using Eigen::Vector2d;

/// Shorter than this there is no straight: far below what is measured, far above rounding.
constexpr double k_same_place_mm = 1e-9;
/// Bends of a law are met at multiples of this part of a straight, so that sections along the car share their points.
constexpr double k_part_step = 1.0 / 64.0;
/// Parts nearer than this are one: a thousandth of the step.
constexpr double k_same_part = 1e-3 * k_part_step;
/// More chords than this in one rounding, or parts in one straight, are a mistake in the numbers.
constexpr std::size_t k_most_parts = 400;
/// Widest chord, so that a half turn keeps its shape whatever the tolerance.
constexpr double k_widest_chord_rad = std::numbers::pi / 4.0;

Vector2d left_of(const Vector2d& direction) {
    return {-direction.y(), direction.x()};
}

double turn_of(const Corner& corner) {
    return 2.0 * std::atan(corner.tan_half);
}

bool is_real(const Corner& corner) {
    return corner.kind != CornerKind::on_straight;
}

/// The straight between two neighbouring real corners of an open chain, and the nodes on it.
struct Stretch {
    std::size_t from = 0, to = 0;
    std::vector<double> x_mm;  ///< Of the nodes from..to, from the first; never falling.

    [[nodiscard]] double length_mm() const { return x_mm.back(); }

    [[nodiscard]] double mark_at(double x, const std::vector<double>& node_marks) const {
        const auto behind = std::upper_bound(x_mm.begin(), x_mm.end(), x);
        if (behind == x_mm.begin() || behind == x_mm.end()) {
            return node_marks[behind == x_mm.end() ? to : from];
        }
        const auto k = static_cast<std::size_t>(behind - x_mm.begin());
        const double part = (x - x_mm[k - 1]) / (x_mm[k] - x_mm[k - 1]);
        return std::lerp(node_marks[from + k - 1], node_marks[from + k], part);
    }
};

std::vector<Stretch> stretches_of(const std::vector<Corner>& corners) {
    std::vector<Stretch> all;
    std::size_t from = 0;
    for (std::size_t to = 1; to < corners.size(); ++to) {
        if (!is_real(corners[to])) {
            continue;
        }
        Stretch stretch{from, to, {0.0}};
        const double whole = (corners[to].p_mm - corners[from].p_mm).norm();
        for (std::size_t k = from + 1; k < to; ++k) {
            const double x = (corners[k].p_mm - corners[from].p_mm).dot(corners[from].after);
            stretch.x_mm.push_back(std::clamp(x, stretch.x_mm.back(), std::max(whole, stretch.x_mm.back())));
        }
        stretch.x_mm.push_back(std::max(whole, stretch.x_mm.back()));
        all.push_back(std::move(stretch));
        from = to;
    }
    return all;
}

double drawn_setback(const Corner& corner) {
    return corner.kind == CornerKind::turn ? corner.radius_mm * corner.tan_half : 0.0;
}

std::vector<CornerMarks> marks_of(const std::vector<Corner>& corners, const std::vector<double>& node_marks,
                                  const std::vector<Stretch>& stretches) {
    std::vector<CornerMarks> marks;
    for (const double mark : node_marks) {
        marks.push_back({mark, mark, mark});
    }
    for (const Stretch& stretch : stretches) {
        const double from = drawn_setback(corners[stretch.from]);
        const double to = drawn_setback(corners[stretch.to]);
        CornerMarks& first = marks[stretch.from];
        CornerMarks& last = marks[stretch.to];
        if (from > 0.0) {
            first.behind = stretch.mark_at(from, node_marks);
        }
        if (to > 0.0) {
            last.before = std::max(stretch.mark_at(stretch.length_mm() - to, node_marks), first.behind);
        }
        // A node that a rounding has reached lies at the rounding's end.
        for (std::size_t k = stretch.from + 1; k < stretch.to; ++k) {
            const double mark = std::clamp(node_marks[k], first.behind, last.before);
            marks[k] = {mark, mark, mark};
        }
    }
    return marks;
}

/// A face in one section: where it is beside each node.
class Face {
public:
    Face(const std::vector<Corner>& corners, const std::vector<double>& node_marks, const OffsetRow& offsets)
        : corners_{corners}, offsets_{offsets}, nodes_(corners.size()) {
        const std::vector<Stretch> stretches = stretches_of(corners);
        const std::vector<CornerMarks> marks = marks_of(corners, node_marks, stretches);
        for (std::size_t i = 0; i < corners.size(); ++i) {
            nodes_[i].marks = marks[i];
            if (is_real(corners[i])) {
                put_corner(i);
            }
        }
        for (const Stretch& stretch : stretches) {
            put_between(stretch);
        }
    }

    [[nodiscard]] bool has_arc(std::size_t i) const {
        return corners_[i].kind == CornerKind::turn && nodes_[i].greatest_mm > k_same_place_mm;
    }
    [[nodiscard]] double arc_radius(std::size_t i) const { return nodes_[i].greatest_mm; }
    [[nodiscard]] Vector2d first(std::size_t i) const {
        return nodes_[i].from_mm + offsets_.at(nodes_[i].marks.before) * left_of(nodes_[i].before);
    }
    [[nodiscard]] Vector2d last(std::size_t i) const {
        return nodes_[i].to_mm + offsets_.at(nodes_[i].marks.behind) * left_of(nodes_[i].after);
    }

    /// A rounding's point, 0 at its start and 1 at its end.
    [[nodiscard]] Vector2d on_arc(std::size_t i, double part) const {
        const Corner& c = corners_[i];
        const Vector2d n = left_of(c.before);
        const Vector2d centre = nodes_[i].from_mm + c.side * nodes_[i].radius_mm * n;
        const double turn = c.side * turn_of(c) * part;
        const Vector2d arm = -c.side * radius_at(i, part) * n;
        return centre + Vector2d{std::cos(turn) * arm.x() - std::sin(turn) * arm.y(),
                                 std::sin(turn) * arm.x() + std::cos(turn) * arm.y()};
    }

    /// Writes the points of a rounding's `count` chords but the last.
    void append_arc(std::size_t i, std::size_t count, std::vector<Vector2d>& points) const {
        const Corner& c = corners_[i];
        const double step = turn_of(c) / static_cast<double>(count);
        const double cosine = std::cos(step);
        const double sine = c.side * std::sin(step);
        const Vector2d n = left_of(c.before);
        const Vector2d centre = nodes_[i].from_mm + c.side * nodes_[i].radius_mm * n;
        Vector2d arm = -c.side * n;
        points.push_back(first(i));
        for (std::size_t k = 1; k < count; ++k) {
            arm = Vector2d{cosine * arm.x() - sine * arm.y(), sine * arm.x() + cosine * arm.y()};
            const double radius = nodes_[i].same ? nodes_[i].greatest_mm
                                                 : radius_at(i, static_cast<double>(k) / static_cast<double>(count));
            points.emplace_back(centre + radius * arm);
        }
    }

    /// A point between nodes i and i + 1.
    [[nodiscard]] Vector2d on_straight(std::size_t i, double part) const {
        const double mark = std::lerp(nodes_[i].marks.behind, nodes_[i + 1].marks.before, part);
        const Vector2d foot = nodes_[i].to_mm + part * (nodes_[i + 1].from_mm - nodes_[i].to_mm);
        return foot + offsets_.at(mark) * left_of(nodes_[i].after);
    }

    /// How far a rounding stands off `count` chords.
    [[nodiscard]] double off_chords(std::size_t i, std::size_t count) const {
        if (!has_arc(i)) {
            return 0.0;
        }
        if (count == 0) {  // It is cut off where it begins.
            return (last(i) - first(i)).norm() + nodes_[i].greatest_mm * (1.0 - std::cos(0.5 * turn_of(corners_[i])));
        }
        const double step = turn_of(corners_[i]) / static_cast<double>(count);
        const double sagitta = 1.0 - std::cos(0.5 * step);
        if (nodes_[i].same) {
            return nodes_[i].greatest_mm * sagitta;
        }
        double worst = 0.0;
        double a = radius_at(i, 0.0);
        for (std::size_t k = 0; k < count; ++k) {
            const double from = static_cast<double>(k) / static_cast<double>(count);
            const double to = static_cast<double>(k + 1) / static_cast<double>(count);
            const double b = radius_at(i, to);
            // A face that draws nearer as it turns is a spiral: (r² + 2 m²) / sqrt(r² + m²) in place of r.
            const double r = std::max(a, b);
            const double m = (b - a) / step;
            const double across = std::hypot(r, m);
            const double bend = across > 0.0 ? (r * r + 2.0 * m * m) / across : 0.0;
            worst = std::max(worst, bend * sagitta + arc_bend(i, from, to));
            a = b;
        }
        return worst;
    }

    struct Bend {
        double off_mm = 0.0, part = 0.0;
    };

    /// How far the face between nodes i and i + 1 stands off the straights between its parts, and where most.
    [[nodiscard]] Bend off_straight(std::size_t i, const std::vector<double>& parts) const {
        Bend worst;
        if (offsets_.marks.size() < 2 || (nodes_[i + 1].from_mm - nodes_[i].to_mm).norm() < k_same_place_mm) {
            return worst;
        }
        const double from = nodes_[i].marks.behind;
        const double to = nodes_[i + 1].marks.before;
        const auto at_part = [&](double part) { return offsets_.at(std::lerp(from, to, part)); };
        for_marks(from, to, [&](double mark, double value) {
            const double part = (mark - from) / (to - from);
            const auto next = std::upper_bound(parts.begin(), parts.end(), part);
            const double before = next == parts.begin() ? 0.0 : *std::prev(next);
            const double behind = next == parts.end() ? 1.0 : *next;
            const double line = std::lerp(at_part(before), at_part(behind), (part - before) / (behind - before));
            if (std::abs(value - line) > worst.off_mm) {
                worst = {std::abs(value - line), part};
            }
        });
        return worst;
    }

private:
    struct Node {
        CornerMarks marks;
        double radius_mm = 0.0;    ///< Of the rounding on the drawn line, as large as the face needs.
        double greatest_mm = 0.0;  ///< Of its radii on the face.
        bool same = true;          ///< The face has one radius all along it.
        Vector2d from_mm = Vector2d::Zero(), to_mm = Vector2d::Zero();  ///< Its ends on the drawn line.
        Vector2d before = Vector2d::Zero(), after = Vector2d::Zero();   ///< Unit, of the straights beside it.
    };

    void put_corner(std::size_t i) {
        const Corner& c = corners_[i];
        Node& node = nodes_[i];
        node.from_mm = node.to_mm = c.p_mm;
        node.before = c.before;
        node.after = c.after;
        if (c.kind != CornerKind::turn) {
            return;
        }
        const double most = offsets_.most(node.marks.before, node.marks.behind);
        const double least = offsets_.least(node.marks.before, node.marks.behind);
        node.radius_mm = std::max(c.radius_mm, c.side > 0.0 ? most : -least);
        node.same = !(most > least);
        node.greatest_mm = node.radius_mm - (c.side > 0.0 ? least : -most);
        node.from_mm = c.p_mm - node.radius_mm * c.tan_half * c.before;
        node.to_mm = c.p_mm + node.radius_mm * c.tan_half * c.after;
    }

    void put_between(const Stretch& stretch) {
        const Corner& a = corners_[stretch.from];
        const Corner& b = corners_[stretch.to];
        const double from = nodes_[stretch.from].radius_mm * a.tan_half;
        const double to = std::max(from, stretch.length_mm() - nodes_[stretch.to].radius_mm * b.tan_half);
        for (std::size_t k = stretch.from + 1; k < stretch.to; ++k) {
            const double x = std::clamp(stretch.x_mm[k - stretch.from], from, to);
            nodes_[k].from_mm = nodes_[k].to_mm = a.p_mm + x * a.after;
            nodes_[k].before = nodes_[k].after = a.after;
        }
    }

    [[nodiscard]] double arc_mark(std::size_t i, double part) const {
        const CornerMarks& m = nodes_[i].marks;
        return part < 0.5 ? std::lerp(m.before, m.at, 2.0 * part) : std::lerp(m.at, m.behind, 2.0 * part - 1.0);
    }

    [[nodiscard]] double radius_at(std::size_t i, double part) const {
        return std::max(0.0, nodes_[i].radius_mm - corners_[i].side * offsets_.at(arc_mark(i, part)));
    }

    /// How far the law bends off the straight between two parts of a rounding.
    [[nodiscard]] double arc_bend(std::size_t i, double from, double to) const {
        const CornerMarks& m = nodes_[i].marks;
        const double a = radius_at(i, from);
        const double b = radius_at(i, to);
        double worst = 0.0;
        const auto look = [&](double mark, double value) {
            const double part = mark < m.at ? 0.5 * (mark - m.before) / (m.at - m.before)
                                            : 0.5 + 0.5 * (mark - m.at) / std::max(m.behind - m.at, k_same_part);
            if (part > from && part < to) {
                const double radius = nodes_[i].radius_mm - corners_[i].side * value;
                worst = std::max(worst, std::abs(radius - std::lerp(a, b, (part - from) / (to - from))));
            }
        };
        for_marks(arc_mark(i, from), arc_mark(i, to), look);
        look(m.at, offsets_.at(m.at));
        return worst;
    }

    /// Each of the law's marks between two, with its value.
    template <class Look>
    void for_marks(double from, double to, const Look& look) const {
        const auto& marks = offsets_.marks;
        for (auto at = std::upper_bound(marks.begin(), marks.end(), from); at != marks.end() && *at < to; ++at) {
            look(*at, offsets_.mm[static_cast<std::size_t>(at - marks.begin())]);
        }
    }

    const std::vector<Corner>& corners_;
    const OffsetRow& offsets_;
    std::vector<Node> nodes_;
};

/// Chords for a rounding of one radius: r (1 - cos(turn / 2n)).
std::size_t chords_for(double turn, double radius_mm, double tolerance_mm) {
    const double step =
        std::min(k_widest_chord_rad, 2.0 * std::acos(std::clamp(1.0 - tolerance_mm / radius_mm, -1.0, 1.0)));
    return static_cast<std::size_t>(std::max(1.0, std::ceil(turn / step)));
}

void add_part(std::vector<double>& parts, double part) {
    const auto there = [&](double p) {
        return p < k_same_part || p > 1.0 - k_same_part ||
               std::any_of(parts.begin(), parts.end(), [&](double other) { return std::abs(other - p) < k_same_part; });
    };
    const double stepped = std::round(part / k_part_step) * k_part_step;
    const double put = there(stepped) ? part : stepped;
    parts.insert(std::upper_bound(parts.begin(), parts.end(), put), put);
}

}  // namespace

std::vector<CornerMarks> corner_marks(const std::vector<Corner>& corners, const std::vector<double>& node_marks) {
    return marks_of(corners, node_marks, stretches_of(corners));
}

std::vector<LinePlace> line_places(const std::vector<Corner>& corners, const std::vector<double>& node_marks) {
    const std::vector<Stretch> stretches = stretches_of(corners);
    const std::vector<CornerMarks> marks = marks_of(corners, node_marks, stretches);
    std::vector<LinePlace> places;
    const auto put = [&](double along_mm, double mark) {
        if (places.empty() || along_mm > in_mm(places.back().along) + k_same_place_mm) {
            places.push_back({millimetres(along_mm), mark});
        } else {
            places.back().mark = std::max(places.back().mark, mark);
        }
    };
    double along = 0.0;
    put(along, marks.front().at);
    for (const Stretch& stretch : stretches) {
        const double from = drawn_setback(corners[stretch.from]);
        const double to = std::max(from, stretch.length_mm() - drawn_setback(corners[stretch.to]));
        put(along, marks[stretch.from].behind);
        for (std::size_t k = stretch.from + 1; k < stretch.to; ++k) {
            put(along + std::clamp(stretch.x_mm[k - stretch.from], from, to) - from, marks[k].at);
        }
        along += to - from;
        put(along, marks[stretch.to].before);
        const Corner& corner = corners[stretch.to];
        const double arc = corner.kind == CornerKind::turn ? corner.radius_mm * turn_of(corner) : 0.0;
        put(along + 0.5 * arc, marks[stretch.to].at);
        along += arc;
        put(along, marks[stretch.to].behind);
    }
    return places;
}

void widen(FaceLayout& layout, const std::vector<Corner>& corners, const std::vector<double>& node_marks,
           const OffsetRow& offsets, Length tolerance) {
    assert(corners.size() > 1 && corners.size() == node_marks.size());
    layout.chords.resize(corners.size(), 0);
    layout.parts.resize(corners.size() - 1);
    const Face face(corners, node_marks, offsets);
    for (std::size_t i = 0; i < corners.size(); ++i) {
        if (face.has_arc(i)) {
            std::size_t& count = layout.chords[i];
            count = std::max(count, chords_for(turn_of(corners[i]), face.arc_radius(i), in_mm(tolerance)));
            while (count < k_most_parts && face.off_chords(i, count) > in_mm(tolerance)) {
                ++count;
            }
        }
    }
    for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
        std::vector<double>& parts = layout.parts[i];
        auto worst = face.off_straight(i, parts);
        while (parts.size() < k_most_parts && worst.off_mm > in_mm(tolerance)) {
            add_part(parts, worst.part);
            worst = face.off_straight(i, parts);
        }
    }
}

Length append_varying_parallel(const std::vector<Corner>& corners, const std::vector<double>& node_marks,
                               const OffsetRow& offsets, const FaceLayout& layout, std::vector<Vector2d>& points) {
    const Face face(corners, node_marks, offsets);
    double off = 0.0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const std::size_t count = layout.chords[i];
        off = std::max(off, face.off_chords(i, count));
        if (count > 0 && face.has_arc(i)) {
            face.append_arc(i, count, points);
            points.push_back(face.last(i));
        } else {
            points.insert(points.end(), count + 1, face.first(i));
        }
        if (i + 1 < corners.size()) {
            off = std::max(off, face.off_straight(i, layout.parts[i]).off_mm);
            for (const double part : layout.parts[i]) {
                points.push_back(face.on_straight(i, part));
            }
        }
    }
    return millimetres(off);
}

void append_varying_curves(const std::vector<Corner>& corners, const std::vector<double>& node_marks,
                           const OffsetRow& offsets, const FaceLayout& layout, std::vector<StripCurve>& curves) {
    const Face face(corners, node_marks, offsets);
    const auto straight = [&](const Vector2d& from, const Vector2d& to) {
        curves.push_back({from, 0.5 * (from + to), to, 1.0});
    };
    for (std::size_t i = 0; i < corners.size(); ++i) {
        if (layout.chords[i] > 0 && face.has_arc(i)) {
            const Vector2d from = face.first(i);
            const Vector2d to = face.last(i);
            const double weight = std::cos(0.5 * turn_of(corners[i]));
            const Vector2d middle = ((2.0 + 2.0 * weight) * face.on_arc(i, 0.5) - from - to) / (2.0 * weight);
            curves.push_back({from, middle, to, weight});
        } else if (layout.chords[i] > 0) {
            const Vector2d p = face.first(i);
            curves.push_back({p, p, p, 1.0});
        }
        if (i + 1 < corners.size()) {
            Vector2d from = layout.chords[i] > 0 ? face.last(i) : face.first(i);
            for (const double part : layout.parts[i]) {
                const Vector2d to = face.on_straight(i, part);
                straight(from, to);
                from = to;
            }
            straight(from, face.first(i + 1));
        }
    }
}

std::vector<Vector2d> varying_parallel(const std::vector<Corner>& corners, const std::vector<double>& node_marks,
                                       const OffsetRow& offsets, Length tolerance) {
    FaceLayout layout;
    widen(layout, corners, node_marks, offsets, tolerance);
    std::vector<Vector2d> all;
    append_varying_parallel(corners, node_marks, offsets, layout, all);
    std::vector<Vector2d> points;
    for (const Vector2d& p : all) {
        if (points.empty() || (p - points.back()).norm() > k_same_place_mm) {
            points.push_back(p);
        }
    }
    return points;
}

std::vector<double> plain_marks(std::size_t count) {
    std::vector<double> marks(count);
    for (std::size_t i = 0; i < count; ++i) {
        marks[i] = static_cast<double>(i);
    }
    return marks;
}

}  // namespace sillwright::geometry
