#include "geometry/rigid_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <Eigen/SVD>
#include <cmath>
#include <string>

namespace sillwright::geometry {

using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::Vector3d;

namespace {

/// Points whose spread across a line is below this share of their spread along it lie on one line: a turn about it
/// would be known ten thousand times worse than one across.
constexpr double k_on_line = 1e-4;

Status usable(std::span<const PointPair> pairs) {
    if (pairs.size() < 3) {
        return Error{ErrorCode::invalid_argument,
                     "A rigid fit needs three points or more; it got " + std::to_string(pairs.size()) + "."};
    }
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const PointPair& pair = pairs[i];
        if (!pair.from_mm.allFinite() || !pair.to_mm.allFinite()) {
            return Error{ErrorCode::invalid_argument,
                         "Point " + std::to_string(i + 1) + " of a rigid fit has a coordinate that is no number."};
        }
        if (!(pair.weight > 0.0) || !std::isfinite(pair.weight)) {
            return Error{ErrorCode::invalid_argument, "Point " + std::to_string(i + 1) +
                                                          " of a rigid fit has a weight of " +
                                                          std::to_string(pair.weight) + "; it must be above zero."};
        }
    }
    return std::monostate{};
}

struct Middles {
    Vector3d from = Vector3d::Zero(), to = Vector3d::Zero();
    double weight = 0.0;
};

Middles middles_of(std::span<const PointPair> pairs) {
    Middles m;
    for (const PointPair& pair : pairs) {
        m.weight += pair.weight;
        m.from += pair.weight * pair.from_mm;
        m.to += pair.weight * pair.to_mm;
    }
    m.from /= m.weight;
    m.to /= m.weight;
    return m;
}

/// Sizes of the three axes of a set's spread, largest first.
bool on_one_line(const Matrix3d& spread) {
    const Vector3d squares = Eigen::JacobiSVD<Matrix3d>(spread).singularValues();
    return !(std::sqrt(squares[1]) > k_on_line * std::sqrt(squares[0]));
}

struct Spreads {
    Matrix3d across = Matrix3d::Zero(), from = Matrix3d::Zero(), to = Matrix3d::Zero();
};

Spreads spreads_of(std::span<const PointPair> pairs, const Middles& middle) {
    Spreads s;
    for (const PointPair& pair : pairs) {
        const Vector3d from = pair.from_mm - middle.from;
        const Vector3d to = pair.to_mm - middle.to;
        s.across += pair.weight / middle.weight * to * from.transpose();
        s.from += pair.weight / middle.weight * from * from.transpose();
        s.to += pair.weight / middle.weight * to * to.transpose();
    }
    return s;
}

Matrix3d skew(const Vector3d& v) {
    Matrix3d m;
    m << 0.0, -v.z(), v.y(), v.z(), 0.0, -v.x(), -v.y(), v.x(), 0.0;
    return m;
}

}  // namespace

Result<RigidFit> fit_rigid(std::span<const PointPair> pairs, bool with_scale) {
    if (const Status status = usable(pairs); !status) {
        return status.error();
    }
    const Middles middle = middles_of(pairs);
    const Spreads spread = spreads_of(pairs, middle);
    if (on_one_line(spread.from) || on_one_line(spread.to)) {
        return Error{ErrorCode::does_not_fit,
                     "The points of a rigid fit lie on one line: one more is needed that stands off it."};
    }
    const Eigen::JacobiSVD<Matrix3d> svd(spread.across, Eigen::ComputeFullU | Eigen::ComputeFullV);
    Vector3d sign = Vector3d::Ones();
    sign.z() = (svd.matrixU() * svd.matrixV().transpose()).determinant() < 0.0 ? -1.0 : 1.0;

    RigidFit fit;
    fit.rotation = svd.matrixU() * sign.asDiagonal() * svd.matrixV().transpose();
    fit.scale = with_scale ? svd.singularValues().dot(sign) / spread.from.trace() : 1.0;
    fit.shift_mm = middle.to - fit.scale * (fit.rotation * middle.from);
    double sum = 0.0;
    for (const PointPair& pair : pairs) {
        fit.residuals_mm.emplace_back(fit.moved(pair.from_mm) - pair.to_mm);
        sum += pair.weight * fit.residuals_mm.back().squaredNorm();
    }
    fit.rms_mm = std::sqrt(sum / middle.weight);
    return fit;
}

MatrixXd residual_covariance_mm2(std::span<const PointPair> pairs, const RigidFit& fit,
                                 const MatrixXd& covariance_mm2) {
    const auto rows = 3 * static_cast<Eigen::Index>(pairs.size());
    const bool scaled = fit.scale != 1.0;
    // How each moved point changes with the motion: a turn about the middle, a shift, and with a scale the size.
    const Middles middle = middles_of(pairs);
    MatrixXd by_motion = MatrixXd::Zero(rows, scaled ? 7 : 6);
    Eigen::VectorXd weights(rows);
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const auto row = 3 * static_cast<Eigen::Index>(i);
        const Vector3d arm = fit.scale * (fit.rotation * (pairs[i].from_mm - middle.from));
        by_motion.block<3, 3>(row, 0) = -skew(arm);
        by_motion.block<3, 3>(row, 3) = Matrix3d::Identity();
        if (scaled) {
            by_motion.block<3, 1>(row, 6) = arm;
        }
        weights.segment<3>(row).setConstant(pairs[i].weight);
    }
    const MatrixXd weighted = weights.asDiagonal() * by_motion;
    const MatrixXd normal = by_motion.transpose() * weighted;
    const MatrixXd left = MatrixXd::Identity(rows, rows) - by_motion * normal.ldlt().solve(weighted.transpose());
    return left * covariance_mm2 * left.transpose();
}

}  // namespace sillwright::geometry
