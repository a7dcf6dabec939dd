#include "geometry/homography.h"

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <Eigen/LU>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <string>

namespace sillwright::geometry {

using Eigen::Matrix2d;
using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::Vector3d;

namespace {

/// Nearer to the horizon than this part of the points' own distance from it, a place has no meaning.
constexpr double k_horizon = 1e-6;
/// Of normalised coordinates, which are of the order of one.
constexpr double k_settled = 1e-13;
constexpr int k_most_steps = 50;

using Row8 = Eigen::Matrix<double, 2, 8>;
using Normal8 = Eigen::Matrix<double, 8, 8>;
using Vector8 = Eigen::Matrix<double, 8, 1>;

/// Least height of the triangle: zero if its corners are on one line.
double least_height(const Vector2d& a, const Vector2d& b, const Vector2d& c) {
    const Vector2d ab = b - a;
    const Vector2d ac = c - a;
    const double longest = std::max({ab.norm(), ac.norm(), (c - b).norm()});
    return longest > 0.0 ? std::abs(ab.x() * ac.y() - ab.y() * ac.x()) / longest : 0.0;
}

double spread(std::span<const Vector2d> points) {
    double most = 0.0;
    for (const Vector2d& a : points) {
        for (const Vector2d& b : points) {
            most = std::max(most, (a - b).norm());
        }
    }
    return most;
}

/// How the points are moved and scaled: their middle to the origin, their mean distance from it to sqrt 2.
struct Normalisation {
    Vector2d middle = Vector2d::Zero();
    double scale = 1.0;

    explicit Normalisation(std::span<const Vector2d> points) {
        for (const Vector2d& p : points) {
            middle += p / static_cast<double>(points.size());
        }
        double mean = 0.0;
        for (const Vector2d& p : points) {
            mean += (p - middle).norm() / static_cast<double>(points.size());
        }
        scale = std::sqrt(2.0) / mean;
    }
    [[nodiscard]] Vector2d operator()(const Vector2d& p) const { return scale * (p - middle); }
    [[nodiscard]] Matrix3d matrix() const {
        Matrix3d m = Matrix3d::Zero();
        m.diagonal() << scale, scale, 1.0;
        m.topRightCorner<2, 1>() = -scale * middle;
        return m;
    }
};

Vector2d mapped(const Matrix3d& h, const Vector2d& p) {
    return (h * p.homogeneous()).hnormalized();
}

/// Of the mapped place by the map's first eight numbers.
Row8 by_parameters(const Matrix3d& h, const Vector2d& p) {
    const Vector3d q = h * p.homogeneous();
    const Vector2d at = q.hnormalized();
    Row8 row = Row8::Zero();
    row.block<1, 3>(0, 0) = p.homogeneous().transpose() / q.z();
    row.block<1, 3>(1, 3) = p.homogeneous().transpose() / q.z();
    row.block<2, 2>(0, 6) = -at * p.transpose() / q.z();
    return row;
}

/// Of the mapped place by the place.
Matrix2d by_place(const Matrix3d& h, const Vector2d& p) {
    const Vector3d q = h * p.homogeneous();
    return (h.topLeftCorner<2, 2>() - q.hnormalized() * h.block<1, 2>(2, 0)) / q.z();
}

Matrix3d linear_start(std::span<const PlanePair> pairs) {
    Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(2 * static_cast<Eigen::Index>(pairs.size()), 9);
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const auto r = 2 * static_cast<Eigen::Index>(i);
        const Vector3d p = pairs[i].from.homogeneous();
        rows.block<1, 3>(r, 0) = p.transpose();
        rows.block<1, 3>(r, 6) = -pairs[i].to.x() * p.transpose();
        rows.block<1, 3>(r + 1, 3) = p.transpose();
        rows.block<1, 3>(r + 1, 6) = -pairs[i].to.y() * p.transpose();
    }
    const Eigen::JacobiSVD<Eigen::MatrixXd> svd(rows, Eigen::ComputeFullV);
    const Eigen::VectorXd h = svd.matrixV().col(8);
    Matrix3d m;
    m << h(0), h(1), h(2), h(3), h(4), h(5), h(6), h(7), h(8);
    return m;
}

/// Whether the whole cloud of points lies on one side of the horizon.
bool tears(const Matrix3d& h, std::span<const PlanePair> pairs) {
    return std::any_of(pairs.begin(), pairs.end(), [&](const PlanePair& pair) {
        return h.row(2).dot(pair.from.homogeneous()) / h(2, 2) <= k_horizon;
    });
}

Matrix2d weight(const Matrix3d& h, const PlanePair& pair) {
    if (pair.sd_from <= 0.0 && pair.sd_to <= 0.0) {
        return Matrix2d::Identity();
    }
    const Matrix2d j = by_place(h, pair.from);
    const Matrix2d covariance =
        pair.sd_from * pair.sd_from * j * j.transpose() + pair.sd_to * pair.sd_to * Matrix2d::Identity();
    return covariance.inverse();
}

Normal8 normal_matrix(const Matrix3d& h, std::span<const PlanePair> pairs) {
    Normal8 normal = Normal8::Zero();
    for (const PlanePair& pair : pairs) {
        const Row8 row = by_parameters(h, pair.from);
        normal += row.transpose() * weight(h, pair) * row;
    }
    return normal;
}

/// Gauss-Newton from the linear start; both in normalised coordinates, the map's last number 1.
Matrix3d adjusted(Matrix3d h, std::span<const PlanePair> pairs) {
    for (int step = 0; step < k_most_steps; ++step) {
        Vector8 right = Vector8::Zero();
        for (const PlanePair& pair : pairs) {
            right += by_parameters(h, pair.from).transpose() * weight(h, pair) * (pair.to - mapped(h, pair.from));
        }
        const Vector8 change = normal_matrix(h, pairs).ldlt().solve(right);
        if (!change.allFinite()) {
            break;
        }
        Matrix3d next = h;
        next.row(0) += change.segment<3>(0).transpose();
        next.row(1) += change.segment<3>(3).transpose();
        next.block<1, 2>(2, 0) += change.segment<2>(6).transpose();
        if (tears(next, pairs)) {
            break;
        }
        h = next;
        if (change.norm() < k_settled) {
            break;
        }
    }
    return h;
}

Status check(std::span<const PlanePair> pairs, std::span<const Vector2d> from, std::span<const Vector2d> to) {
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const PlanePair& pair = pairs[i];
        if (!pair.from.allFinite() || !pair.to.allFinite() || !std::isfinite(pair.sd_from) ||
            !std::isfinite(pair.sd_to) || pair.sd_from < 0.0 || pair.sd_to < 0.0) {
            return Error{ErrorCode::invalid_argument,
                         "Point " + std::to_string(i + 1) + " has a number that is not one, or an sd below zero."};
        }
    }
    if (pairs.size() < 4) {
        return Error{ErrorCode::invalid_argument, "Four known points are needed to straighten a plane; there are " +
                                                      std::to_string(pairs.size()) + "."};
    }
    for (const auto& points : {from, to}) {
        if (const auto line = on_one_line(points)) {
            return Error{ErrorCode::does_not_fit,
                         "Points " + std::to_string((*line)[0] + 1) + ", " + std::to_string((*line)[1] + 1) + " and " +
                             std::to_string((*line)[2] + 1) +
                             " lie on one line: choose four of which no three do, best near the corners."};
        }
    }
    return std::monostate{};
}

}  // namespace

std::optional<std::array<std::size_t, 3>> on_one_line(std::span<const Vector2d> points) {
    const double near = k_on_a_line * spread(points);
    const auto flat = [&](std::size_t a, std::size_t b, std::size_t c) {
        return least_height(points[a], points[b], points[c]) <= near;
    };
    std::optional<std::array<std::size_t, 3>> found;
    const std::size_t n = points.size();
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = i + 1; j < n; ++j) {
            for (std::size_t k = j + 1; k < n; ++k) {
                if (flat(i, j, k)) {
                    if (!found) {
                        found = {i, j, k};
                    }
                    continue;
                }
                for (std::size_t l = k + 1; l < n; ++l) {
                    if (!flat(i, j, l) && !flat(i, k, l) && !flat(j, k, l)) {
                        return std::nullopt;
                    }
                }
            }
        }
    }
    return found;
}

Result<Homography> Homography::fit(std::span<const PlanePair> pairs) {
    std::vector<Vector2d> from;
    std::vector<Vector2d> to;
    for (const PlanePair& pair : pairs) {
        from.push_back(pair.from);
        to.push_back(pair.to);
    }
    if (auto checked = check(pairs, from, to); !checked) {
        return checked.error();
    }
    const Normalisation from_normal(from);
    const Normalisation to_normal(to);
    std::vector<PlanePair> normalised;
    bool any_sd = false;
    for (const PlanePair& pair : pairs) {
        normalised.push_back({from_normal(pair.from), to_normal(pair.to), from_normal.scale * pair.sd_from,
                              to_normal.scale * pair.sd_to});
        any_sd = any_sd || pair.sd_from > 0.0 || pair.sd_to > 0.0;
    }
    Matrix3d h = linear_start(normalised);
    if (tears(h, normalised)) {
        return Error{ErrorCode::does_not_fit,
                     "The points do not lie round in the same order in both planes: two of them may be mixed up."};
    }
    h = adjusted(h / h(2, 2), normalised);

    Homography fitted;
    fitted.normal_ = h;
    fitted.from_middle_ = from_normal.middle;
    fitted.from_scale_ = from_normal.scale;
    fitted.to_middle_ = to_normal.middle;
    fitted.to_scale_ = to_normal.scale;
    const Matrix3d whole = to_normal.matrix().inverse() * h * from_normal.matrix();
    fitted.matrix_ = std::abs(whole(2, 2)) > k_horizon * whole.row(2).norm() ? Matrix3d(whole / whole(2, 2)) : whole;
    fitted.inverse_ = h.inverse();
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const Vector2d miss = mapped(h, normalised[i].from) - normalised[i].to;
        fitted.residuals_.push_back(miss / to_normal.scale);
        fitted.sum_of_squares_ += miss.dot(weight(h, normalised[i]) * miss);
    }
    if (any_sd) {
        fitted.parameters_covariance_ = normal_matrix(h, normalised).ldlt().solve(Normal8::Identity());
    }
    return fitted;
}

std::optional<Vector2d> Homography::map(const Vector2d& from) const {
    const Vector3d q = normal_ * Vector2d(from_scale_ * (from - from_middle_)).homogeneous();
    if (q.z() <= k_horizon) {
        return std::nullopt;
    }
    return Vector2d(q.hnormalized() / to_scale_ + to_middle_);
}

std::optional<Vector2d> Homography::back(const Vector2d& to) const {
    const Vector3d q = inverse_ * Vector2d(to_scale_ * (to - to_middle_)).homogeneous();
    const Vector2d from = q.hnormalized() / from_scale_ + from_middle_;
    if (!from.allFinite() || !map(from)) {
        return std::nullopt;
    }
    return from;
}

std::optional<Matrix2d> Homography::covariance(const Vector2d& from) const {
    if (!parameters_covariance_ || !map(from)) {
        return std::nullopt;
    }
    const Row8 row = by_parameters(normal_, from_scale_ * (from - from_middle_));
    return Matrix2d(row * *parameters_covariance_ * row.transpose() / (to_scale_ * to_scale_));
}

}  // namespace sillwright::geometry
