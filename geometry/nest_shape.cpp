#include "geometry/nest_shape.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <polyclipping/clipper.hpp>

#include "geometry/polygon_triangles.h"

namespace sillwright::geometry {

using ClipperLib::IntPoint;
using ClipperLib::Path;
using ClipperLib::Paths;
using Eigen::Vector2d;

namespace {

/// Clipper counts in whole numbers: ten thousand to a millimetre, so that 100 m stay within its fast range.
constexpr double k_per_mm = 1e4;
constexpr double k_most_mm = 1e5;
/// By which Clipper's roundings may stand inside the true arc, and so by how much more is asked for.
constexpr double k_round_mm = 0.01;
/// A corner that turns by less is as good as straight (twice an area, square millimetres).
constexpr double k_straight_mm2 = 1e-9;
/// Where a chord is compared with what it replaces.
constexpr int k_chord_checks = 8;
/// Least change by which the pieces of a ring are still told apart from rounding.
constexpr double k_least_area_mm2 = 1e-3;
/// Corners of a no-fit ring nearer than this, in Clipper's units, are one.
constexpr double k_same_corner = 1.5;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

Path path_of(const Polygon& ring) {
    Path path;
    path.reserve(ring.size());
    for (const Vector2d& p : ring) {
        path.emplace_back(std::llround(p.x() * k_per_mm), std::llround(p.y() * k_per_mm));
    }
    return path;
}

Polygon ring_of(const Path& path) {
    Polygon ring;
    ring.reserve(path.size());
    for (const IntPoint& p : path) {
        ring.emplace_back(static_cast<double>(p.X) / k_per_mm, static_cast<double>(p.Y) / k_per_mm);
    }
    return ring;
}

Paths offset(const Paths& paths, double by_mm) {
    constexpr double k_any_mitre = 2.0;  // not used with round joints
    ClipperLib::ClipperOffset offsetter(k_any_mitre, k_round_mm * k_per_mm);
    offsetter.AddPaths(paths, ClipperLib::jtRound, ClipperLib::etClosedPolygon);
    Paths result;
    offsetter.Execute(result, by_mm * k_per_mm);
    return result;
}

/// The outer border with the largest area.
Path largest(const Paths& paths) {
    Path best;
    double area = 0.0;
    for (const Path& path : paths) {
        if (ClipperLib::Area(path) > area) {
            area = ClipperLib::Area(path);
            best = path;
        }
    }
    return best;
}

double distance_to_ring(const Vector2d& p, const Polygon& ring) {
    double least = 1e300;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vector2d& a = ring[i];
        const Vector2d d = ring[(i + 1) % ring.size()] - a;
        const double t = std::clamp((p - a).dot(d) / std::max(d.squaredNorm(), 1e-300), 0.0, 1.0);
        least = std::min(least, (a + t * d - p).squaredNorm());
    }
    return std::sqrt(least);
}

/// Takes corners out of a ring so that it only ever grows.
class FewerCorners {
public:
    FewerCorners(Polygon ring, Length outer, Length inner)
        : whole_(ring), ring_(std::move(ring)), outer_mm_(in_mm(outer)), inner_mm_(in_mm(inner)) {}

    Polygon done() {
        // Small changes first, so that the larger ones are left for where they take out most.
        for (const double share : {0.1, 0.3, 1.0}) {
            share_ = share;
            for (bool changed = true; changed;) {
                changed = false;
                for (std::size_t i = 0; i < ring_.size() && ring_.size() > 4;) {
                    if (drop_inner(i) || join_outer(i)) {
                        changed = true;
                    } else {
                        ++i;
                    }
                }
            }
        }
        return ring_;
    }

private:
    [[nodiscard]] const Vector2d& at(std::size_t i) const { return ring_[i % ring_.size()]; }

    /// A corner that goes inward gives way to the chord before it.
    bool drop_inner(std::size_t i) {
        const std::size_t n = ring_.size();
        const Vector2d a = at(i + n - 1), b = at(i), c = at(i + 1);
        if (cross(b - a, c - b) > k_straight_mm2) {
            return false;
        }
        for (int k = 1; k < k_chord_checks; ++k) {
            if (distance_to_ring(a + (c - a) * (static_cast<double>(k) / k_chord_checks), whole_) >
                share_ * inner_mm_) {
                return false;
            }
        }
        ring_.erase(ring_.begin() + static_cast<std::ptrdiff_t>(i));
        return true;
    }

    /// Two corners that go outward give way to the one where their outer edges meet.
    bool join_outer(std::size_t i) {
        const std::size_t n = ring_.size();
        const Vector2d a = at(i + n - 1), b = at(i), c = at(i + 1), d = at(i + 2);
        const Vector2d u = b - a, v = d - c;
        const double turn = cross(u, v);
        if (cross(u, c - b) <= 0.0 || cross(c - b, v) <= 0.0 || turn <= k_straight_mm2) {
            return false;
        }
        const Vector2d met = b + u * (cross(c - b, v) / turn);
        if (distance_to_ring(met, whole_) > share_ * outer_mm_) {
            return false;
        }
        ring_[i] = met;
        ring_.erase(ring_.begin() + static_cast<std::ptrdiff_t>((i + 1) % n));
        return true;
    }

    Polygon whole_, ring_;
    double outer_mm_, inner_mm_, share_ = 0.0;
};

/// The way along a ring, corner by corner: each edge's direction, and how its corners turn.
class Course {
public:
    explicit Course(const Path& path) : path_(path) {
        for (std::size_t i = 0; i < path.size(); ++i) {
            const IntPoint &a = path[i], &b = path[next(i)];
            angles_.push_back(std::atan2(static_cast<double>(b.Y - a.Y), static_cast<double>(b.X - a.X)));
        }
    }
    [[nodiscard]] std::size_t size() const { return path_.size(); }
    [[nodiscard]] std::size_t next(std::size_t i) const { return i + 1 == path_.size() ? 0 : i + 1; }
    [[nodiscard]] const IntPoint& at(std::size_t i) const { return path_[i]; }
    /// Of the edge that leaves corner i.
    [[nodiscard]] double angle(std::size_t i) const { return angles_[i]; }

    /// 1 if the corner turns left through that direction, -1 if right, 0 if not through it. A direction that is that of
    /// one of the corner's edges counts as a little less than it (`a_little_less`) or a little more.
    [[nodiscard]] int turns_through(std::size_t i, double angle, bool a_little_less) const {
        const double in = angles_[i == 0 ? path_.size() - 1 : i - 1], out = angles_[i];
        const double turn = std::remainder(out - in, 2.0 * std::numbers::pi);
        if (turn == 0.0) {
            return 0;
        }
        return turn > 0.0 ? (between(in, out, angle, a_little_less) ? 1 : 0)
                          : (between(out, in, angle, a_little_less) ? -1 : 0);
    }

private:
    /// Going left from one direction to another. By comparisons alone, so that no rounding can make two answers
    /// disagree.
    static bool between(double from, double to, double angle, bool a_little_less) {
        const bool after = a_little_less ? angle > from : angle >= from;
        const bool before = a_little_less ? angle <= to : angle < to;
        return from < to ? after && before : after || before;
    }

    const Path& path_;
    std::vector<double> angles_;
};

/// The convolution of two borders: each edge of one at each corner of the other that turns through its direction,
/// backward where it turns right. It falls apart into closed paths.
class Convolution {
public:
    Convolution(const Path& a, const Path& b) : a_(a), b_(b), ways_(a.size() * b.size()) {
        for (std::size_t i = 0; i < a_.size(); ++i) {
            for (std::size_t j = 0; j < b_.size(); ++j) {
                add(i, j, a_.next(i), j, b_.turns_through(j, a_.angle(i), true));
                add(i, j, i, b_.next(j), a_.turns_through(i, b_.angle(j), false));
            }
        }
    }

    Paths closed_paths() {
        Paths paths;
        for (std::size_t start = 0; start < ways_.size(); ++start) {
            while (!ways_[start].empty()) {
                Path path;
                for (std::size_t at = start; !ways_[at].empty();) {
                    const std::size_t to = ways_[at].back();
                    ways_[at].pop_back();
                    const IntPoint &p = a_.at(at / b_.size()), &q = b_.at(at % b_.size());
                    path.emplace_back(p.X + q.X, p.Y + q.Y);
                    at = to;
                }
                paths.push_back(std::move(path));
            }
        }
        return paths;
    }

private:
    void add(std::size_t i, std::size_t j, std::size_t to_i, std::size_t to_j, int way) {
        const std::size_t from = i * b_.size() + j, to = to_i * b_.size() + to_j;
        if (way > 0) {
            ways_[from].push_back(to);
        } else if (way < 0) {
            ways_[to].push_back(from);
        }
    }

    Course a_, b_;
    std::vector<std::vector<std::size_t>> ways_;  ///< From each pair of corners.
};

/// Without corners that are the one before.
Path told_apart(const Path& path) {
    Path result;
    for (const IntPoint& p : path) {
        if (result.empty() || p != result.back()) {
            result.push_back(p);
        }
    }
    while (result.size() > 1 && result.front() == result.back()) {
        result.pop_back();
    }
    return result;
}

bool is_sound(const Polygon& ring) {
    return ring.size() >= 3 && std::all_of(ring.begin(), ring.end(), [](const Vector2d& p) {
               return p.allFinite() && p.cwiseAbs().maxCoeff() <= k_most_mm;
           });
}

}  // namespace

Result<Polygon> grown_ring(const Polygon& outline_mm, const GrownBy& by) {
    if (!is_sound(outline_mm)) {
        return Error{ErrorCode::invalid_argument,
                     "An outline to be nested needs three corners or more, all within 100 m."};
    }
    if (polygon_area(outline_mm) < k_least_area_mm2 || !polygon_triangles(outline_mm)) {
        return Error{ErrorCode::invalid_argument,
                     "An outline to be nested must run anticlockwise, have an area, and not cross itself."};
    }
    const double pockets = in_mm(by.pockets);
    // Rounding to whole units can take half of one off on either side.
    const double grow = in_mm(by.all_round) + k_round_mm + 1.0 / k_per_mm;
    Paths paths = offset({path_of(outline_mm)}, grow + pockets);
    if (pockets > 0.0) {
        paths = offset({largest(paths)}, -pockets);
    }
    const Path outer = largest(paths);
    if (outer.size() < 3) {
        return Error{ErrorCode::kernel_failure, "An outline to be nested could not be grown."};
    }
    return FewerCorners(ring_of(outer), by.fewer_corners, by.fewer_dents).done();
}

Vector2d quarter_turned(const Vector2d& p, int quarters) {
    switch (quarters & 3) {
        case 1:
            return {-p.y(), p.x()};
        case 2:
            return {-p.x(), -p.y()};
        case 3:
            return {p.y(), -p.x()};
        default:
            return p;
    }
}

Polygon quarter_turned(Polygon ring, int quarters) {
    for (Vector2d& p : ring) {
        p = quarter_turned(p, quarters);
    }
    return ring;
}

std::vector<Polygon> no_fit_rings(const Polygon& fixed, const Polygon& moving, int moving_quarters) {
    constexpr int k_half_turn = 2;  // mirrors in a point
    const Path still = told_apart(path_of(fixed));
    const Path mirrored = told_apart(path_of(quarter_turned(moving, moving_quarters + k_half_turn)));
    ClipperLib::Clipper clipper;
    clipper.AddPaths(Convolution(still, mirrored).closed_paths(), ClipperLib::ptSubject, true);
    Paths merged;
    clipper.Execute(ClipperLib::ctUnion, merged, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    ClipperLib::CleanPolygons(merged, k_same_corner);
    std::vector<Polygon> rings;
    for (const Path& path : merged) {
        if (path.size() >= 3) {
            rings.push_back(ring_of(path));
        }
    }
    return rings;
}

double least_grown_area_mm2(const Polygon& outline_mm, Length distance, Length chord) {
    const double by = in_mm(distance) - in_mm(chord) - 1.0 / k_per_mm;
    double area = 0.0;
    for (const Path& path : offset({path_of(outline_mm)}, by)) {
        area += ClipperLib::Area(path);
    }
    return std::max(0.0, area / (k_per_mm * k_per_mm));
}

}  // namespace sillwright::geometry
