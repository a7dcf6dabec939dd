#include "geometry/triangle_distance.h"

#include <Eigen/Geometry>
#include <algorithm>

namespace sillwright::geometry {

using Eigen::Vector3d;

namespace {

/// Two directions count as parallel where the sine between them, squared, is below
/// this: no edge then leaves the other by more than 1e-14 of its length.
constexpr double k_parallel = 1e-28;

double clamp01(double t) {
    return std::clamp(t, 0.0, 1.0);
}

void keep_nearer(ClosestPoints& best, const Vector3d& p, const Vector3d& q) {
    const double squared = (q - p).squaredNorm();
    if (squared < best.squared_mm2) {
        best = {p, q, squared};
    }
}

/// True if the plane through the nearest points, square to `gap`, has all of
/// `first` behind it and all of `second` before it: then nothing is nearer.
bool separates(const ClosestPoints& pair, const Corners& first, const Corners& second) {
    const Vector3d gap = pair.on_second - pair.on_first;
    const double from = gap.dot(pair.on_first);
    const double to = gap.dot(pair.on_second);
    return gap.dot(first[0]) <= from && gap.dot(first[1]) <= from && gap.dot(first[2]) <= from &&
           gap.dot(second[0]) >= to && gap.dot(second[1]) >= to && gap.dot(second[2]) >= to;
}

/// The point where an edge of `edges` pierces `face`, if one does.
bool pierced(const Corners& edges, const Corners& face, Vector3d& at) {
    for (std::size_t k = 0; k < 3; ++k) {
        const Vector3d& p = edges[k];
        const Vector3d& q = edges[(k + 1) % 3];
        const Piercing volumes = piercing(p, q, face);
        if (volumes.pierces()) {
            at = p + (volumes.side_p / (volumes.side_p - volumes.side_q)) * (q - p);
            return true;
        }
    }
    return false;
}

}  // namespace

Vector3d nearest_on_segment(const Vector3d& p, const Vector3d& a, const Vector3d& b) {
    const Vector3d ab = b - a;
    const double squared = ab.squaredNorm();
    return squared > 0.0 ? Vector3d(a + clamp01(ab.dot(p - a) / squared) * ab) : a;
}

ClosestPoints segment_distance(const Vector3d& a0, const Vector3d& a1, const Vector3d& b0, const Vector3d& b1) {
    const Vector3d da = a1 - a0;
    const Vector3d db = b1 - b0;
    const Vector3d r = a0 - b0;
    const double aa = da.squaredNorm();
    const double bb = db.squaredNorm();
    const double br = db.dot(r);
    double s = 0.0;
    double t = 0.0;
    if (aa <= 0.0) {
        t = bb > 0.0 ? clamp01(br / bb) : 0.0;
    } else {
        const double ar = da.dot(r);
        if (bb <= 0.0) {
            s = clamp01(-ar / aa);
        } else {
            const double ab = da.dot(db);
            // By cross products: aa * bb - ab * ab cancels for edges that are nearly parallel.
            const Vector3d across = da.cross(db);
            const double denominator = across.squaredNorm();
            if (denominator > k_parallel * aa * bb) {
                s = clamp01(db.cross(r).dot(across) / denominator);
            }
            t = (ab * s + br) / bb;
            if (t < 0.0) {
                t = 0.0;
                s = clamp01(-ar / aa);
            } else if (t > 1.0) {
                t = 1.0;
                s = clamp01((ab - ar) / aa);
            }
        }
    }
    ClosestPoints result{a0 + s * da, b0 + t * db, 0.0};
    result.squared_mm2 = (result.on_second - result.on_first).squaredNorm();
    return result;
}

Vector3d nearest_on_triangle(const Vector3d& p, const Corners& triangle) {
    const Vector3d& a = triangle[0];
    const Vector3d& b = triangle[1];
    const Vector3d& c = triangle[2];
    const Vector3d ab = b - a;
    const Vector3d ac = c - a;
    const Vector3d normal = ab.cross(ac);
    const double area = normal.squaredNorm();
    if (area > 0.0) {
        const Vector3d ap = p - a;
        const double v = ap.cross(ac).dot(normal);  // Weight of b, times area.
        const double w = ab.cross(ap).dot(normal);  // Weight of c, times area.
        if (v >= 0.0 && w >= 0.0 && v + w <= area) {
            return a + (v / area) * ab + (w / area) * ac;
        }
    }
    Vector3d best = nearest_on_segment(p, a, b);
    double least = (best - p).squaredNorm();
    for (const Vector3d& candidate : {nearest_on_segment(p, b, c), nearest_on_segment(p, c, a)}) {
        const double squared = (candidate - p).squaredNorm();
        if (squared < least) {
            least = squared;
            best = candidate;
        }
    }
    return best;
}

bool Piercing::pierces() const {
    const bool across = (side_p > 0.0 && side_q < 0.0) || (side_p < 0.0 && side_q > 0.0);
    const bool inside =
        (edges[0] > 0.0 && edges[1] > 0.0 && edges[2] > 0.0) || (edges[0] < 0.0 && edges[1] < 0.0 && edges[2] < 0.0);
    return across && inside;
}

Piercing piercing(const Vector3d& p, const Vector3d& q, const Corners& triangle) {
    const Vector3d a = triangle[0] - p;
    const Vector3d b = triangle[1] - p;
    const Vector3d c = triangle[2] - p;
    const Vector3d normal = (b - a).cross(c - a);
    const Vector3d pq = q - p;
    const double side_p = -normal.dot(a);
    return {side_p, side_p + normal.dot(pq), {pq.dot(a.cross(b)), pq.dot(b.cross(c)), pq.dot(c.cross(a))}};
}

ClosestPoints triangle_distance(const Corners& first, const Corners& second) {
    ClosestPoints best{first[0], second[0], (second[0] - first[0]).squaredNorm()};
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < 3; ++j) {
            const ClosestPoints pair = segment_distance(first[i], first[(i + 1) % 3], second[j], second[(j + 1) % 3]);
            if (pair.squared_mm2 < best.squared_mm2 || (i == 0 && j == 0)) {
                best = pair;
                if (separates(best, first, second)) {
                    return best;
                }
            }
        }
    }
    for (std::size_t i = 0; i < 3; ++i) {
        keep_nearer(best, nearest_on_triangle(second[i], first), second[i]);
        keep_nearer(best, first[i], nearest_on_triangle(first[i], second));
    }
    if (Vector3d at; pierced(first, second, at) || pierced(second, first, at)) {
        best = {at, at, 0.0};
    }
    return best;
}

}  // namespace sillwright::geometry
