#include "geometry/section_faces.h"

#include <Eigen/LU>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "geometry/corner.h"

namespace sillwright::geometry {

using Eigen::Vector2d;
using Eigen::Vector3d;

namespace {

/// Strips and radii no greater than this are none: far below what is measured, far above rounding.
constexpr double k_nothing_mm = 1e-9;
/// Where on a stretch, of its length, the cubics are taken.
constexpr std::array<double, 4> k_taken{0.0, 0.25, 0.75, 1.0};
/// A rounding whose radius changes by less (per millimetre along) has its least draft at one of its ends.
constexpr double k_steady = 1e-12;
/// A rounding is looked at in so many steps, and then between the two beside the least.
constexpr int k_steps = 8;
/// Of a rounding: a look inward from its end, whether the draft falls there.
constexpr double k_nudge = 1e-6;
/// Golden sections from a step to below 1e-9 rad; the least is flat, so that its place needs no more.
constexpr int k_sections = 44;
constexpr double k_golden = 0.6180339887498949;

Vector2d left_of(const Vector2d& direction) {
    return {-direction.y(), direction.x()};
}

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

/// A place on the line: the node before it and the part of the way to the next.
struct Foot {
    std::size_t strip = 0;
    double part = 0.0;

    [[nodiscard]] double mark() const { return static_cast<double>(strip) + part; }
};

class Facing {
public:
    Facing(const std::vector<NodeCourse>& nodes, const std::vector<Corner>& corners, double offset_mm)
        : nodes_{nodes}, corners_{corners}, offset_mm_{offset_mm}, n_{nodes.size()} {
        for (std::size_t i = 0; i + 1 < n_; ++i) {
            length_.push_back((nodes[i + 1].p_mm - nodes[i].p_mm).norm());
        }
        take_setbacks();
    }

    std::vector<SectionFace> faces() {
        for (std::size_t i = 0; i < n_; ++i) {
            if (i > 0 && i + 1 < n_ && corners_[i].kind == CornerKind::turn) {
                add_rounding(i);
            }
            if (i + 1 < n_ && length_[i] - from_[i] - to_[i] > k_nothing_mm) {
                add_strip(i);
            }
        }
        return std::move(faces_);
    }

private:
    [[nodiscard]] double setback(std::size_t corner) const {
        return corners_[corner].kind == CornerKind::turn ? corners_[corner].setback_at(offset_mm_) : 0.0;
    }

    /// What the corners take of every strip, beyond nodes that stand on the same straight too.
    void take_setbacks() {
        from_.assign(length_.size(), 0.0);
        to_.assign(length_.size(), 0.0);
        double carried = 0.0;
        for (std::size_t i = 0; i < length_.size(); ++i) {
            carried = corners_[i].kind == CornerKind::turn ? setback(i) : carried;
            from_[i] = std::clamp(carried, 0.0, length_[i]);
            carried = std::max(0.0, carried - length_[i]);
        }
        carried = 0.0;
        for (std::size_t i = length_.size(); i-- > 0;) {
            carried = corners_[i + 1].kind == CornerKind::turn ? setback(i + 1) : carried;
            to_[i] = std::clamp(carried, 0.0, length_[i]);
            carried = std::max(0.0, carried - length_[i]);
        }
    }

    /// So far behind a corner, or before it.
    [[nodiscard]] Foot foot_behind(std::size_t corner, double distance) const {
        std::size_t i = corner;
        while (i + 1 < length_.size() && (length_[i] < k_nothing_mm || distance > length_[i])) {
            distance -= length_[i];
            ++i;
        }
        return {i, length_[i] > 0.0 ? std::clamp(distance / length_[i], 0.0, 1.0) : 0.0};
    }
    [[nodiscard]] Foot foot_before(std::size_t corner, double distance) const {
        std::size_t i = corner - 1;
        while (i > 0 && (length_[i] < k_nothing_mm || distance > length_[i])) {
            distance -= length_[i];
            --i;
        }
        return {i, length_[i] > 0.0 ? std::clamp(1.0 - distance / length_[i], 0.0, 1.0) : 1.0};
    }

    [[nodiscard]] double rate(const Foot& foot, const Vector2d& normal) const {
        const NodeCourse& a = nodes_[foot.strip];
        const NodeCourse& b = nodes_[foot.strip + 1];
        return normal.dot((1.0 - foot.part) * a.rate + foot.part * b.rate);
    }
    [[nodiscard]] Vector2d point(const Foot& foot, const Vector2d& normal) const {
        const NodeCourse& a = nodes_[foot.strip];
        const NodeCourse& b = nodes_[foot.strip + 1];
        return (1.0 - foot.part) * a.p_mm + foot.part * b.p_mm + offset_mm_ * normal;
    }

    void add_strip(std::size_t i) {
        SectionFace face;
        face.from = i;
        face.to = i + 1;
        const Foot first{i, from_[i] / length_[i]};
        const Foot last{i, 1.0 - to_[i] / length_[i]};
        face.begins = first.mark();
        face.ends = last.mark();
        face.from_normal = face.to_normal = left_of((nodes_[i + 1].p_mm - nodes_[i].p_mm) / length_[i]);
        face.from_mm = point(first, face.from_normal);
        face.to_mm = point(last, face.to_normal);
        face.from_rate = rate(first, face.from_normal);
        face.to_rate = rate(last, face.to_normal);
        faces_.push_back(face);
    }

    void add_rounding(std::size_t i) {
        const Corner& corner = corners_[i];
        const double radius = corner.radius_at(offset_mm_);
        if (radius <= k_nothing_mm) {
            return;
        }
        SectionFace face;
        face.from = face.to = i;
        face.side = corner.side;
        face.radius_mm = radius;
        face.radius_rate = nodes_[i].radius_rate;
        const double back = corner.setback_at(offset_mm_);
        const Foot first = foot_before(i, back);
        const Foot last = foot_behind(i, back);
        face.begins = first.mark();
        face.ends = last.mark();
        face.from_normal = left_of(corner.before);
        face.to_normal = left_of(corner.after);
        face.from_rate = rate(first, face.from_normal);
        face.to_rate = rate(last, face.to_normal);
        face.centre_mm = corner.p_mm - back * corner.before + corner.side * corner.radius_mm * face.from_normal;
        face.from_mm = face.centre_mm - corner.side * radius * face.from_normal;
        face.to_mm = face.centre_mm - corner.side * radius * face.to_normal;
        faces_.push_back(face);
    }

    const std::vector<NodeCourse>& nodes_;
    const std::vector<Corner>& corners_;
    double offset_mm_;
    std::size_t n_;
    std::vector<double> length_, from_, to_;
    std::vector<SectionFace> faces_;
};

Vector2d in_space(const Vector2d& normal, double rate) {
    return normal / std::sqrt(1.0 + rate * rate);
}

/// A part of the line along which neither coordinate of the draw turns.
struct Part {
    std::size_t face = 0;
    bool begins_face = true, ends_face = true;
    Vector2d from_mm, to_mm;
};

void add_parts(const SectionFace& face, std::size_t number, const Vector2d& p, std::vector<Part>& parts) {
    std::vector<double> cuts;
    if (face.rounding()) {
        const double sweep = face.sweep_rad();
        for (const Vector2d& facing : {p, left_of(p), Vector2d(-p), Vector2d(-left_of(p))}) {
            const double turn = std::atan2(cross(face.from_normal, facing), face.from_normal.dot(facing));
            const double fraction = turn / sweep;
            if (fraction > 0.0 && fraction < 1.0) {
                cuts.push_back(fraction);
            }
        }
        std::sort(cuts.begin(), cuts.end());
    }
    Vector2d from = face.from_mm;
    for (std::size_t i = 0; i <= cuts.size(); ++i) {
        const bool last = i == cuts.size();
        const Vector2d to = last ? face.to_mm : face.point_at(cuts[i]);
        parts.push_back({number, i == 0, last, from, to});
        from = to;
    }
}

class HeldSearch {
public:
    HeldSearch(const std::vector<SectionFace>& faces, Angle tilt)
        : faces_{faces}, p_{draw_direction(tilt)}, depth_(faces.size(), 0.0), at_mm_(faces.size(), Vector2d::Zero()) {
        for (std::size_t i = 0; i < faces.size(); ++i) {
            add_parts(faces[i], i, p_, parts_);
        }
    }

    std::vector<HeldFace> found() {
        if (parts_.empty()) {
            return {};
        }
        std::size_t crown = 0;  // The part before which the crown is; their count at the end.
        double furthest = parts_.front().from_mm.dot(p_);
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            if (parts_[i].to_mm.dot(p_) > furthest) {
                furthest = parts_[i].to_mm.dot(p_);
                crown = i + 1;
            }
        }
        walk_to_end(crown);
        walk_to_start(crown);
        std::vector<HeldFace> held;
        for (std::size_t i = 0; i < faces_.size(); ++i) {
            if (depth_[i] >= k_held_least_mm) {
                held.push_back({i, depth_[i], at_mm_[i]});
            }
        }
        return held;
    }

private:
    void walk_to_end(std::size_t crown) {
        const Vector2d away = -left_of(p_);
        double reached = crown < parts_.size() ? parts_[crown].from_mm.dot(away) : 0.0;
        for (std::size_t i = crown; i < parts_.size(); ++i) {
            const Part& part = parts_[i];
            step(part.from_mm, part.to_mm, away, reached, counts_to(part, part.ends_face, true));
        }
    }
    void walk_to_start(std::size_t crown) {
        const Vector2d away = left_of(p_);
        double reached = crown > 0 ? parts_[crown - 1].to_mm.dot(away) : 0.0;
        for (std::size_t i = crown; i-- > 0;) {
            const Part& part = parts_[i];
            step(part.to_mm, part.from_mm, away, reached, counts_to(part, part.begins_face, false));
        }
    }
    void step(const Vector2d& from, const Vector2d& to, const Vector2d& away, double& reached, std::size_t face) {
        reached = std::max(reached, from.dot(away));
        const double back = reached - to.dot(away);
        if (to.dot(away) < from.dot(away) && back > depth_[face]) {
            depth_[face] = back;
            at_mm_[face] = to;
        }
    }
    /// The strip that turns back with a part of a rounding: the next one on the way if the part reaches it.
    [[nodiscard]] std::size_t counts_to(const Part& part, bool reaches_next, bool to_end) const {
        if (!faces_[part.face].rounding()) {
            return part.face;
        }
        const bool up = reaches_next == to_end;
        if (up ? part.face + 1 >= faces_.size() : part.face == 0) {
            return part.face;
        }
        const std::size_t beside = up ? part.face + 1 : part.face - 1;
        return faces_[beside].rounding() ? part.face : beside;
    }

    const std::vector<SectionFace>& faces_;
    Vector2d p_;
    std::vector<Part> parts_;
    std::vector<double> depth_;
    std::vector<Vector2d> at_mm_;
};

}  // namespace

LoftStretch::LoftStretch(const Loft& loft, Length from, Length to)
    : loft_{&loft}, from_{from}, to_{to}, cubics_(loft.names().size()) {
    Eigen::Matrix4d powers;
    for (std::size_t i = 0; i < k_order; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        powers.row(row) << 1.0, k_taken[i], k_taken[i] * k_taken[i], k_taken[i] * k_taken[i] * k_taken[i];
    }
    const Eigen::Matrix4d inverse = powers.inverse();
    std::vector<ProfileNode> nodes;
    for (auto& cubic : cubics_) {
        cubic.fill(Vector3d::Zero());
    }
    for (std::size_t i = 0; i < k_order; ++i) {
        loft.nodes_at(from + (to - from) * k_taken[i], nodes);
        for (std::size_t name = 0; name < nodes.size(); ++name) {
            const Vector3d value(nodes[name].p_mm.x(), nodes[name].p_mm.y(), in_mm(nodes[name].radius));
            for (std::size_t power = 0; power < k_order; ++power) {
                cubics_[name][power] += inverse(static_cast<Eigen::Index>(power), static_cast<Eigen::Index>(i)) * value;
            }
        }
    }
}

LoftStretch LoftStretch::of(const Loft& loft, Length along) {
    const auto keys = loft.key_places();
    std::size_t i = 0;
    while (i + 2 < keys.size() && along > keys[i + 1]) {
        ++i;
    }
    return {loft, keys[i], keys[i + 1]};
}

std::vector<NodeCourse> LoftStretch::at(Length along) const {
    const auto nodes = loft_->nodes_at(along);
    const double length = in_mm(to_ - from_);
    const double t = in_mm(along - from_) / length;
    std::vector<NodeCourse> courses;
    courses.reserve(nodes.size());
    for (std::size_t name = 0; name < nodes.size(); ++name) {
        const auto& c = cubics_[name];
        const Vector3d rate = (c[1] + t * (2.0 * c[2] + t * 3.0 * c[3])) / length;
        courses.push_back({nodes[name].p_mm, rate.head<2>(), nodes[name].radius, rate.z()});
    }
    return courses;
}

double SectionFace::sweep_rad() const {
    return std::atan2(cross(from_normal, to_normal), from_normal.dot(to_normal));
}

Vector2d SectionFace::plane_normal_at(double fraction) const {
    if (!rounding()) {
        return from_normal;
    }
    const double turn = fraction * sweep_rad();
    return std::cos(turn) * from_normal + std::sin(turn) * left_of(from_normal);
}

Vector2d SectionFace::point_at(double fraction) const {
    return rounding() ? Vector2d(centre_mm - side * radius_mm * plane_normal_at(fraction))
                      : Vector2d((1.0 - fraction) * from_mm + fraction * to_mm);
}

double SectionFace::rate_at(double fraction) const {
    if (!rounding()) {
        return (1.0 - fraction) * from_rate + fraction * to_rate;
    }
    // Along its normal a rounding moves as its centre does, and outward or inward as it grows.
    const double sweep = sweep_rad();
    const double grows = side * radius_rate;
    return (std::sin((1.0 - fraction) * sweep) * (from_rate + grows) + std::sin(fraction * sweep) * (to_rate + grows)) /
               std::sin(sweep) -
           grows;
}

Vector2d SectionFace::normal_at(double fraction) const {
    return in_space(plane_normal_at(fraction), rate_at(fraction));
}

Result<std::vector<SectionFace>> section_faces(const std::vector<NodeCourse>& nodes,
                                               const std::vector<std::string>& names, Length offset) {
    std::vector<ProfileNode> places;
    places.reserve(nodes.size());
    for (const NodeCourse& node : nodes) {
        places.push_back({node.p_mm, node.radius});
    }
    std::vector<Corner> corners;
    if (auto status = find_corners(places, names, false, corners); !status) {
        return status.error();
    }
    return Facing(nodes, corners, in_mm(offset)).faces();
}

void add_normals(const SectionFace& strip, std::vector<Vector2d>& normals) {
    assert(!strip.rounding());
    normals.push_back(strip.normal_at(0.0));
    normals.push_back(strip.normal_at(1.0));
    if (strip.from_rate * strip.to_rate < 0.0) {
        normals.push_back(strip.from_normal);
    }
}

FaceDraft least_draft(const SectionFace& face, Angle tilt) {
    const Vector2d p = draw_direction(tilt);
    const auto sine_at = [&](double fraction) { return face.normal_at(fraction).dot(p); };
    double least = sine_at(0.0);
    double where = 0.0;
    const auto consider = [&](double fraction) {
        const double sine = sine_at(fraction);
        if (sine < least) {
            least = sine;
            where = fraction;
        }
    };
    consider(1.0);
    if (!face.rounding()) {
        if (face.from_rate * face.to_rate < 0.0) {
            consider(face.from_rate / (face.from_rate - face.to_rate));
        }
    } else if (std::abs(face.radius_rate) > k_steady || face.from_normal.dot(p) <= 0.0 ||
               face.to_normal.dot(p) <= 0.0) {
        for (int i = 1; i < k_steps; ++i) {
            consider(static_cast<double>(i) / k_steps);
        }
        const double inward = where == 0.0 ? k_nudge : 1.0 - k_nudge;
        if ((where == 0.0 || where == 1.0) && sine_at(inward) >= least) {
            return {radians(std::asin(std::clamp(least, -1.0, 1.0))), where};  // It only rises from that end.
        }
        double low = std::max(0.0, where - 1.0 / k_steps);
        double high = std::min(1.0, where + 1.0 / k_steps);
        for (int i = 0; i < k_sections; ++i) {
            const double a = high - k_golden * (high - low);
            const double b = low + k_golden * (high - low);
            const bool before = sine_at(a) <= sine_at(b);
            (before ? high : low) = before ? b : a;
        }
        consider(0.5 * (low + high));
    }
    return {radians(std::asin(std::clamp(least, -1.0, 1.0))), where};
}

std::vector<HeldFace> held_faces(const std::vector<SectionFace>& faces, Angle tilt) {
    return HeldSearch(faces, tilt).found();
}

}  // namespace sillwright::geometry
