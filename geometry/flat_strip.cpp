#include "geometry/flat_strip.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace sillwright::geometry {

using Eigen::Vector2d;
using Eigen::Vector3d;

namespace {

/// Places nearer than this are one.
constexpr double k_no_length_mm = 1e-9;

Vector2d left_of(const Vector2d& v) {
    return {-v.y(), v.x()};
}

/// The corner of a triangle that lies to the left of the way from `a` to `b`, by its distances from both.
Vector2d third_corner(const Vector2d& a, const Vector2d& b, double from_a, double from_b) {
    const double base = (b - a).norm();
    const Vector2d on = (b - a) / base;
    const double x = (from_a * from_a - from_b * from_b + base * base) / (2.0 * base);
    return a + x * on + std::sqrt(std::max(0.0, from_a * from_a - x * x)) * left_of(on);
}

struct Edges {
    std::vector<Vector2d> near, far;
};

/// `rising`: quadrangles are cut from this rung's near end to the next one's far end; else the other way.
Edges laid(const std::vector<Rung>& rungs, bool rising) {
    Edges flat;
    flat.near.emplace_back(0.0, 0.0);
    flat.far.emplace_back(0.0, (rungs[0].far_mm - rungs[0].near_mm).norm());
    for (std::size_t i = 1; i < rungs.size(); ++i) {
        const Rung& a = rungs[i - 1];
        const Rung& b = rungs[i];
        const Vector2d near = flat.near.back();
        const Vector2d far = flat.far.back();
        const double along_near = (b.near_mm - a.near_mm).norm();
        const double along_far = (b.far_mm - a.far_mm).norm();
        const double across = (b.far_mm - b.near_mm).norm();
        // The next rung lies to the right of the way from near to far, which is to the left of the way back.
        if (rising) {
            const Vector2d next_far = third_corner(far, near, along_far, (b.far_mm - a.near_mm).norm());
            flat.far.push_back(next_far);
            flat.near.push_back(third_corner(next_far, near, across, along_near));
        } else {
            const Vector2d next_near = third_corner(far, near, (b.near_mm - a.far_mm).norm(), along_near);
            flat.near.push_back(next_near);
            flat.far.push_back(third_corner(far, next_near, along_far, across));
        }
    }
    const Vector2d way = (flat.near.back() - flat.near.front()).normalized();
    for (std::vector<Vector2d>* edge : {&flat.near, &flat.far}) {
        for (Vector2d& p : *edge) {
            p = Vector2d(way.dot(p), left_of(way).dot(p));
        }
    }
    return flat;
}

/// A place by a triangle's corners: shares of the second and the third.
Vector2d shares_of(const std::array<Vector3d, 3>& corners, const Vector3d& p) {
    Eigen::Matrix<double, 3, 2> sides;
    sides << corners[1] - corners[0], corners[2] - corners[0];
    return (sides.transpose() * sides).ldlt().solve(sides.transpose() * (p - corners[0]));
}

/// Distance of a place from a triangle, by the shares of what is nearest among corner, edge and face.
double distance_to(const std::array<Vector3d, 3>& corners, const Vector3d& p, const Vector2d& shares) {
    if (shares.minCoeff() >= 0.0 && shares.sum() <= 1.0) {
        const Vector3d foot =
            corners[0] + shares.x() * (corners[1] - corners[0]) + shares.y() * (corners[2] - corners[0]);
        return (p - foot).norm();
    }
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < 3; ++k) {
        const Vector3d& from = corners[k];
        const Vector3d way = corners[(k + 1) % 3] - from;
        const double t = std::clamp((p - from).dot(way) / way.squaredNorm(), 0.0, 1.0);
        least = std::min(least, (p - from - t * way).norm());
    }
    return least;
}

bool finite(const Rung& rung) {
    return rung.near_mm.allFinite() && rung.far_mm.allFinite();
}

}  // namespace

Result<FlatStrip> FlatStrip::of(const std::vector<Rung>& rungs) {
    if (rungs.size() < 2) {
        return Error{ErrorCode::invalid_argument, "A strip needs two rungs or more to be laid flat."};
    }
    for (std::size_t i = 0; i < rungs.size(); ++i) {
        const bool across = finite(rungs[i]) && (rungs[i].far_mm - rungs[i].near_mm).norm() > k_no_length_mm;
        const bool along = i == 0 || ((rungs[i].near_mm - rungs[i - 1].near_mm).norm() > k_no_length_mm &&
                                      (rungs[i].far_mm - rungs[i - 1].far_mm).norm() > k_no_length_mm);
        if (!across || !along) {
            return Error{ErrorCode::invalid_argument, "The strip cannot be laid flat: its rung " +
                                                          std::to_string(i + 1) +
                                                          " has no length, or meets the one before it."};
        }
    }
    FlatStrip strip;
    strip.rungs_ = rungs;
    Edges flat = laid(rungs, true);
    const Edges other = laid(rungs, false);
    for (std::size_t i = 0; i < rungs.size(); ++i) {
        strip.misfit_mm_ =
            std::max({strip.misfit_mm_, (flat.near[i] - other.near[i]).norm(), (flat.far[i] - other.far[i]).norm()});
    }
    strip.near_ = std::move(flat.near);
    strip.far_ = std::move(flat.far);
    return strip;
}

Vector2d FlatStrip::at(const Vector3d& p_mm) const {
    Vector2d found = Vector2d::Zero();
    double least = std::numeric_limits<double>::infinity();
    const auto look = [&](const std::array<Vector3d, 3>& corners, const std::array<Vector2d, 3>& flat) {
        const Vector2d shares = shares_of(corners, p_mm);
        const double distance = distance_to(corners, p_mm, shares);
        if (distance < least) {
            least = distance;
            found = flat[0] + shares.x() * (flat[1] - flat[0]) + shares.y() * (flat[2] - flat[0]);
        }
    };
    for (std::size_t i = 1; i < rungs_.size(); ++i) {
        const Rung& a = rungs_[i - 1];
        const Rung& b = rungs_[i];
        look({a.near_mm, b.far_mm, a.far_mm}, {near_[i - 1], far_[i], far_[i - 1]});
        look({a.near_mm, b.near_mm, b.far_mm}, {near_[i - 1], near_[i], far_[i]});
    }
    return found;
}

}  // namespace sillwright::geometry
