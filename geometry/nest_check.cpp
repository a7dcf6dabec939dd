#include "geometry/nest_check.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sillwright::geometry {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;

namespace {

/// What turning and moving of a part may round.
constexpr double k_rounding_mm = 1e-6;

/// What is asked for, less the rounding; where nothing is asked for, the two must still be apart.
double least_of(Length asked) {
    return std::max(in_mm(asked) - k_rounding_mm, k_rounding_mm);
}

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

double point_to_edge(const Vector2d& p, const Vector2d& a, const Vector2d& b) {
    const Vector2d d = b - a;
    const double size = d.squaredNorm();
    const double t = size > 0.0 ? std::clamp((p - a).dot(d) / size, 0.0, 1.0) : 0.0;
    return (a + t * d - p).norm();
}

bool cross_each_other(const Vector2d& a, const Vector2d& b, const Vector2d& c, const Vector2d& d) {
    const double c_side = cross(b - a, c - a), d_side = cross(b - a, d - a);
    const double a_side = cross(d - c, a - c), b_side = cross(d - c, b - c);
    return (c_side > 0.0) != (d_side > 0.0) && (a_side > 0.0) != (b_side > 0.0);
}

double edge_distance(const Vector2d& a, const Vector2d& b, const Vector2d& c, const Vector2d& d) {
    if (cross_each_other(a, b, c, d)) {
        return 0.0;
    }
    return std::min({point_to_edge(a, c, d), point_to_edge(b, c, d), point_to_edge(c, a, b), point_to_edge(d, a, b)});
}

AlignedBox2d box_of(const Polygon& ring) {
    AlignedBox2d box;
    for (const Vector2d& p : ring) {
        box.extend(p);
    }
    return box;
}

AlignedBox2d edge_box(const Polygon& ring, std::size_t i) {
    const Vector2d &a = ring[i], &b = ring[(i + 1) % ring.size()];
    return {a.cwiseMin(b), a.cwiseMax(b)};
}

Polygon corners_of(const AlignedBox2d& box) {
    return {box.min(), {box.max().x(), box.min().y()}, box.max(), {box.min().x(), box.max().y()}};
}

bool too_near(const Polygon& a, const Polygon& b, double least_mm) {
    if (box_of(a).exteriorDistance(box_of(b)) >= least_mm) {
        return false;
    }
    return ring_distance_mm(a, b, least_mm) < least_mm || inside_ring(a, b.front()) || inside_ring(b, a.front());
}

}  // namespace

double ring_distance_mm(const Polygon& a, const Polygon& b, double far_enough) {
    const AlignedBox2d whole = box_of(b);
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < a.size(); ++i) {
        const AlignedBox2d box = edge_box(a, i);
        if (box.exteriorDistance(whole) > far_enough) {
            continue;
        }
        for (std::size_t j = 0; j < b.size(); ++j) {
            if (box.exteriorDistance(edge_box(b, j)) <= far_enough) {
                least = std::min(least, edge_distance(a[i], a[(i + 1) % a.size()], b[j], b[(j + 1) % b.size()]));
            }
        }
    }
    return least;
}

bool inside_ring(const Polygon& ring, const Vector2d& p_mm) {
    bool inside = false;
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
        const Vector2d &a = ring[i], &b = ring[j];
        if ((a.y() > p_mm.y()) != (b.y() > p_mm.y()) &&
            p_mm.x() < (b.x() - a.x()) * (p_mm.y() - a.y()) / (b.y() - a.y()) + a.x()) {
            inside = !inside;
        }
    }
    return inside;
}

std::optional<std::string> sheet_fault(const SheetToCheck& sheet) {
    const Vector2d in = Vector2d::Constant(in_mm(sheet.margin) - k_rounding_mm);
    const AlignedBox2d allowed(in, sheet.size_mm - in);
    for (std::size_t i = 0; i < sheet.outlines_mm.size(); ++i) {
        const Polygon& one = sheet.outlines_mm[i];
        if (!allowed.contains(box_of(one))) {
            return "Outline " + std::to_string(i) + " is nearer to the sheet's edge than the margin.";
        }
        for (std::size_t j = 0; j < sheet.defects.size(); ++j) {
            if (too_near(one, corners_of(sheet.defects[j]), least_of(sheet.margin))) {
                return "Outline " + std::to_string(i) + " is nearer to defect " + std::to_string(j) +
                       " than the margin.";
            }
        }
        for (std::size_t j = i + 1; j < sheet.outlines_mm.size(); ++j) {
            if (too_near(one, sheet.outlines_mm[j], least_of(sheet.gap))) {
                return "Outlines " + std::to_string(i) + " and " + std::to_string(j) + " are nearer than the gap.";
            }
        }
    }
    return std::nullopt;
}

}  // namespace sillwright::geometry
