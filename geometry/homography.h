#pragma once

#include <Eigen/Core>
#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "geometry/result.h"

namespace sillwright::geometry {

/// One place seen in two planes, and how sure each of its coordinates is there.
struct PlanePair {
    Eigen::Vector2d from = Eigen::Vector2d::Zero(), to = Eigen::Vector2d::Zero();
    double sd_from = 0.0, sd_to = 0.0;  ///< Each in the unit of its plane; both zero: every pair counts alike.
};

/// The projective map from one plane to another: what a lens without distortion does to a flat thing.
///
/// Units and frame: each plane has its own unit and its own two axes, which may be turned or mirrored.
/// Method: linear start (coordinates normalised), then least squares of the distances in the `to` plane, each pair
///   weighted by its sds carried through the map; no weight is given to how a real lens bends straights.
/// Accuracy: exact pairs are met to 1e-9 of the spread of the points. The covariance is of first order in the sds.
/// Source: R. Hartley, In defense of the eight-point algorithm, IEEE PAMI 19 (1997) 580, for the normalisation; R.
///   Hartley, A. Zisserman, Multiple View Geometry (2004), chapters 4 and 5, for the rest (from memory).
class Homography {
public:
    /// Errors: invalid_argument for fewer than four pairs, a number that is not finite or a negative sd; does_not_fit
    ///   where no four are in general position (`on_one_line` says which three are not), and where the pairs lie
    ///   round in such an order that the map would tear the plane between them (two are mixed up).
    static Result<Homography> fit(std::span<const PlanePair> pairs);

    /// None on or beyond the line that is mapped to infinity (the horizon).
    [[nodiscard]] std::optional<Eigen::Vector2d> map(const Eigen::Vector2d& from) const;
    /// The way back; none where `map` would not lead here.
    [[nodiscard]] std::optional<Eigen::Vector2d> back(const Eigen::Vector2d& to) const;
    /// Homogeneous, from `from` to `to`; the last number is 1 unless the origin is mapped to infinity.
    [[nodiscard]] const Eigen::Matrix3d& matrix() const { return matrix_; }

    /// Of each pair, map(from) - to: in the unit of `to`. Zero for four pairs.
    [[nodiscard]] const std::vector<Eigen::Vector2d>& residuals() const { return residuals_; }
    /// Sum of the squared residuals over their sds, and 2 n - 8.
    [[nodiscard]] double sum_of_squares() const { return sum_of_squares_; }
    [[nodiscard]] int degrees_of_freedom() const { return 2 * static_cast<int>(residuals_.size()) - 8; }

    /// How sure map(from) is, from the sds of the pairs alone: in the unit of `to`, squared. It grows away from the
    /// points. None beyond the horizon, or where no sds were given.
    [[nodiscard]] std::optional<Eigen::Matrix2d> covariance(const Eigen::Vector2d& from) const;

private:
    Homography() = default;

    Eigen::Matrix3d matrix_ = Eigen::Matrix3d::Identity(), inverse_ = Eigen::Matrix3d::Identity();
    std::vector<Eigen::Vector2d> residuals_;
    double sum_of_squares_ = 0.0;
    // The fit in coordinates that are moved and scaled about the points.
    Eigen::Vector2d from_middle_ = Eigen::Vector2d::Zero(), to_middle_ = Eigen::Vector2d::Zero();
    double from_scale_ = 1.0, to_scale_ = 1.0;
    Eigen::Matrix3d normal_ = Eigen::Matrix3d::Identity();
    std::optional<Eigen::Matrix<double, 8, 8>> parameters_covariance_;
};

/// Three of the points that lie on one line, if no four of them are in general position. None of fewer than three.
std::optional<std::array<std::size_t, 3>> on_one_line(std::span<const Eigen::Vector2d> points);

/// A point nearer to the line through two others than this part of the greatest distance between any two says
/// nothing sideways that a hand could still pick.
constexpr double k_on_a_line = 0.01;

}  // namespace sillwright::geometry
