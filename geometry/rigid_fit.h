#pragma once

#include <Eigen/Core>
#include <optional>
#include <span>
#include <vector>

#include "geometry/result.h"

namespace sillwright::geometry {

/// One point in both places, and how much it counts.
struct PointPair {
    Eigen::Vector3d from_mm = Eigen::Vector3d::Zero();
    Eigen::Vector3d to_mm = Eigen::Vector3d::Zero();
    double weight = 1.0;  ///< > 0; one over the variance for the likeliest fit.
};

/// A motion that puts one set of points onto another: to = scale * rotation * from + shift.
struct RigidFit {
    Eigen::Matrix3d rotation = Eigen::Matrix3d::Identity();  ///< Proper: never a mirror image.
    Eigen::Vector3d shift_mm = Eigen::Vector3d::Zero();
    double scale = 1.0;
    std::vector<Eigen::Vector3d> residuals_mm;  ///< Moved minus to.
    double rms_mm = 0.0;                        ///< sqrt of the weighted mean of |residual|^2.

    [[nodiscard]] Eigen::Vector3d moved(const Eigen::Vector3d& from_mm) const {
        return scale * (rotation * from_mm) + shift_mm;
    }
};

/// The motion that makes the weighted sum of squared residuals smallest. With `with_scale` the size may change too
/// (to tell whether it did: a body keeps its size).
///
/// Units and frame: millimetres; each set in a frame of its own.
/// Shape: three pairs or more, not on one line in either set. Points of one plane are enough: of the two motions that
///   a mirror image would allow, the proper one is taken.
/// Accuracy: rounding, about 1e-15 of the size of the sets.
/// Errors: invalid_argument for fewer than three pairs, a weight that is not above zero, a number that is not finite;
///   does_not_fit for points on one line.
/// Source: W. Kabsch, Acta Cryst. A 34 (1978) 827; the guard against reflection and the scale: S. Umeyama, IEEE Trans.
///   Pattern Anal. 13 (1991) 376 (both from memory).
Result<RigidFit> fit_rigid(std::span<const PointPair> pairs, bool with_scale = false);

/// Covariance of the residuals of a fit, from that of all coordinates: three rows a pair, in the order of the pairs.
/// `covariance_mm2` is of the differences that the fit is made of, to - rotation * from (the covariance of `to` plus
/// the turned covariance of `from`, if neither depends on the other).
///
/// Accuracy: first order; for residuals small against the set's size.
/// Precondition: covariance_mm2 has three rows and columns a pair.
Eigen::MatrixXd residual_covariance_mm2(std::span<const PointPair> pairs, const RigidFit& fit,
                                        const Eigen::MatrixXd& covariance_mm2);

}  // namespace sillwright::geometry
