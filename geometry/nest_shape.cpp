#include "geometry/nest_shape.h"

#include <algorithm>
#include <cmath>
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

Path path_of(const Ring& ring) {
    Path path;
    path.reserve(ring.size());
    for (const Vector2d& p : ring) {
        path.emplace_back(std::llround(p.x() * k_per_mm), std::llround(p.y() * k_per_mm));
    }
    return path;
}

Ring ring_of(const Path& path) {
    Ring ring;
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

double distance_to_ring(const Vector2d& p, const Ring& ring) {
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
    FewerCorners(Ring ring, double by_mm) : whole_(ring), ring_(std::move(ring)), by_mm_(by_mm) {}

    Ring done() {
        // Small changes first, so that the larger ones are left for where they take out most.
        for (const double share : {0.1, 0.3, 1.0}) {
            allowed_mm_ = share * by_mm_;
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
            if (distance_to_ring(a + (c - a) * (static_cast<double>(k) / k_chord_checks), whole_) > allowed_mm_) {
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
        if (distance_to_ring(met, whole_) > allowed_mm_) {
            return false;
        }
        ring_[i] = met;
        ring_.erase(ring_.begin() + static_cast<std::ptrdiff_t>((i + 1) % n));
        return true;
    }

    Ring whole_, ring_;
    double by_mm_, allowed_mm_ = 0.0;
};

bool is_convex(const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vector2d& b = ring[(i + 1) % ring.size()];
        if (cross(b - ring[i], ring[(i + 2) % ring.size()] - b) < 0.0) {
            return false;
        }
    }
    return true;
}

using Indices = std::vector<std::size_t>;

/// Two convex pieces joined over an edge that both have, if that is convex.
bool join(const Ring& corners, Indices& one, const Indices& other) {
    for (std::size_t i = 0; i < one.size(); ++i) {
        const std::size_t a = one[i], b = one[(i + 1) % one.size()];
        for (std::size_t j = 0; j < other.size(); ++j) {
            if (other[j] != b || other[(j + 1) % other.size()] != a) {
                continue;
            }
            Indices both;
            for (std::size_t k = 1; k <= one.size(); ++k) {
                both.push_back(one[(i + k) % one.size()]);  // from b round to a
            }
            for (std::size_t k = 2; k < other.size(); ++k) {
                both.push_back(other[(j + k) % other.size()]);  // after a, before b
            }
            Ring ring;
            for (const std::size_t k : both) {
                ring.push_back(corners[k]);
            }
            if (!is_convex(ring)) {
                return false;
            }
            one = both;
            return true;
        }
    }
    return false;
}

std::size_t lowest(const Path& path) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < path.size(); ++i) {
        if (path[i].Y < path[best].Y || (path[i].Y == path[best].Y && path[i].X < path[best].X)) {
            best = i;
        }
    }
    return best;
}

/// Sum of two convex, anticlockwise paths: their edges by direction.
Path convex_sum(const Path& a, const Path& b) {
    const std::size_t a0 = lowest(a), b0 = lowest(b);
    Path sum;
    sum.reserve(a.size() + b.size());
    std::size_t i = 0, j = 0;
    while (i < a.size() || j < b.size()) {
        const IntPoint &p = a[(a0 + i) % a.size()], &q = b[(b0 + j) % b.size()];
        sum.emplace_back(p.X + q.X, p.Y + q.Y);
        const IntPoint &p1 = a[(a0 + i + 1) % a.size()], &q1 = b[(b0 + j + 1) % b.size()];
        const double turn = static_cast<double>(p1.X - p.X) * static_cast<double>(q1.Y - q.Y) -
                            static_cast<double>(p1.Y - p.Y) * static_cast<double>(q1.X - q.X);
        const bool on_a = j == b.size() || (i < a.size() && turn >= 0.0);
        const bool on_b = i == a.size() || (j < b.size() && turn <= 0.0);
        i += on_a ? 1U : 0U;
        j += on_b ? 1U : 0U;
    }
    return sum;
}

bool is_sound(const Ring& ring) {
    return ring.size() >= 3 && std::all_of(ring.begin(), ring.end(), [](const Vector2d& p) {
               return p.allFinite() && p.cwiseAbs().maxCoeff() <= k_most_mm;
           });
}

}  // namespace

Result<Ring> grown_ring(const Ring& outline_mm, const GrownBy& by) {
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
    return FewerCorners(ring_of(outer), in_mm(by.fewer_corners)).done();
}

Result<NestShape> nest_shape(Ring ring) {
    const auto triangles = polygon_triangles(ring);
    if (!triangles) {
        return triangles.error();
    }
    std::vector<Indices> pieces;
    for (const Triangle& t : triangles.value()) {
        const Indices piece{static_cast<std::size_t>(t[0]), static_cast<std::size_t>(t[1]),
                            static_cast<std::size_t>(t[2])};
        if (cross(ring[piece[1]] - ring[piece[0]], ring[piece[2]] - ring[piece[0]]) > 0.0) {
            pieces.push_back(piece);
        }
    }
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        for (std::size_t j = i + 1; j < pieces.size();) {
            if (join(ring, pieces[i], pieces[j])) {
                pieces.erase(pieces.begin() + static_cast<std::ptrdiff_t>(j));
                j = i + 1;
            } else {
                ++j;
            }
        }
    }
    NestShape shape;
    for (const Indices& piece : pieces) {
        Ring corners;
        for (const std::size_t k : piece) {
            corners.push_back(ring[k]);
        }
        shape.pieces.push_back(std::move(corners));
    }
    shape.ring = std::move(ring);
    return shape;
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

Ring quarter_turned(Ring ring, int quarters) {
    for (Vector2d& p : ring) {
        p = quarter_turned(p, quarters);
    }
    return ring;
}

std::vector<Ring> no_fit_rings(const NestShape& fixed, const NestShape& moving, int moving_quarters) {
    constexpr int k_half_turn = 2;  // mirroring in a point
    std::vector<Path> mirrored, still;
    for (const Ring& piece : moving.pieces) {
        mirrored.push_back(path_of(quarter_turned(piece, moving_quarters + k_half_turn)));
    }
    for (const Ring& piece : fixed.pieces) {
        still.push_back(path_of(piece));
    }
    ClipperLib::Clipper clipper;
    for (const Path& a : still) {
        for (const Path& b : mirrored) {
            clipper.AddPath(convex_sum(a, b), ClipperLib::ptSubject, true);
        }
    }
    Paths merged;
    clipper.Execute(ClipperLib::ctUnion, merged, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    ClipperLib::CleanPolygons(merged, k_same_corner);
    std::vector<Ring> rings;
    for (const Path& path : merged) {
        if (path.size() >= 3) {
            rings.push_back(ring_of(path));
        }
    }
    return rings;
}

double least_grown_area_mm2(const Ring& outline_mm, Length distance, Length chord) {
    const double by = in_mm(distance) - in_mm(chord) - 1.0 / k_per_mm;
    double area = 0.0;
    for (const Path& path : offset({path_of(outline_mm)}, by)) {
        area += ClipperLib::Area(path);
    }
    return std::max(0.0, area / (k_per_mm * k_per_mm));
}

}  // namespace sillwright::geometry
