#include "core/survey/freedom.h"

#include <Eigen/Eigenvalues>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <cstdint>

#include "core/survey/candidates.h"
#include "core/survey/network_fit.h"

namespace sillwright::core::survey {

using Eigen::VectorXd;

namespace {

/// Added to the normal matrix so that it can be inverted: far below any direction that counts as known, far above
/// rounding (largest entries about 1e5).
constexpr double k_shift = 1e-9;
/// Random loads: what is free answers each of them.
constexpr int k_loads = 4;
/// Part of a load that a direction of k_unknown_sd_mm lets through.
constexpr double k_let_through = k_shift * k_unknown_sd_mm * k_unknown_sd_mm;

double scattered(std::uint64_t& state) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;  // Knuth's MMIX (from memory)
    return static_cast<double>(state >> 11U) / 4503599627370496.0 - 1.0;
}

/// What the readings do not hold of some random loads, by unknown (zero where held).
Eigen::MatrixXd let_through(const Network& network, const VectorXd& values) {
    WholeNormal normal = whole_normal(network, values, false);
    const auto n = normal.matrix.rows();
    Eigen::MatrixXd result = Eigen::MatrixXd::Zero(network.unknowns(), k_loads);
    if (n == 0) {
        return result;
    }
    for (Eigen::Index i = 0; i < n; ++i) {
        normal.matrix.coeffRef(i, i) += k_shift;
    }
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(normal.matrix);
    std::uint64_t state = 7;
    Eigen::MatrixXd loads(n, k_loads);
    for (Eigen::Index i = 0; i < loads.size(); ++i) {
        loads.data()[i] = scattered(state);
    }
    const Eigen::MatrixXd answer = k_shift * solver.solve(loads);
    for (Eigen::Index i = 0; i < n; ++i) {
        result.row(normal.unknowns[static_cast<std::size_t>(i)]) = answer.row(i);
    }
    return result;
}

/// Every point was placed by itself from points placed before, and no lean is sought: then each rests on the earlier.
bool stands_fast(const Network& network, const Placing& placing) {
    const auto leans = network.guessed.begin() + network.lean(0);
    return placing.one_by_one && std::count(placing.placed.begin(), placing.placed.end(), false) == 0 &&
           std::count(leans, leans + 2 * std::ssize(network.set_ups), true) == 0;
}

/// How far all unknowns move in a small rigid motion of everything: three shifts, three turns (about the middle, by a
/// millimetre at a metre). A turn leans the set-ups too.
Eigen::Matrix<double, Eigen::Dynamic, 6> rigid_motions(const Network& network, const VectorXd& values) {
    Eigen::Matrix<double, Eigen::Dynamic, 6> motions = Eigen::MatrixXd::Zero(network.unknowns(), 6);
    Eigen::Vector3d middle = Eigen::Vector3d::Zero();
    for (int p = 0; p < network.points(); ++p) {
        middle += values.segment<3>(3 * p) / network.points();
    }
    for (int k = 0; k < 3; ++k) {
        const Eigen::Vector3d axis = Eigen::Vector3d::Unit(k);
        for (int p = 0; p < network.points(); ++p) {
            motions.block<3, 1>(3 * p, k) = axis;
            motions.block<3, 1>(3 * p, 3 + k) = k_angle_unit * axis.cross(values.segment<3>(3 * p) - middle);
        }
        for (int s = 0; s < static_cast<int>(network.set_ups.size()); ++s) {
            // plumb_up is about (pitch, roll, 1): a turn moves it by axis x up.
            const Eigen::Vector3d tipped = axis.cross(Eigen::Vector3d::UnitZ());
            motions.block<2, 1>(network.lean(s), 3 + k) = Eigen::Vector2d(tipped.y(), tipped.x());
        }
    }
    return motions;
}

/// Whether the readings and what is held let everything move as one body.
bool frame_is_free(const Network& network, const VectorXd& values) {
    const auto motions = rigid_motions(network, values);
    Eigen::Matrix<double, 6, 6> seen = Eigen::Matrix<double, 6, 6>::Zero();
    const auto see = [&](const Eigen::Matrix<double, 6, 1>& row) { seen += row * row.transpose(); };
    // A lean that is held stops nothing by itself: heights do, that do not turn with the points then.
    for (int u = 0; u < 3 * network.points(); ++u) {
        if (network.held[static_cast<std::size_t>(u)]) {
            see(motions.row(u).transpose());
        }
    }
    for (const NetworkNumber& number : network.numbers) {
        const NetworkRow row = row_of(network, number, values, false);
        Eigen::Matrix<double, 6, 1> total = Eigen::Matrix<double, 6, 1>::Zero();
        for (std::size_t i = 0; i < static_cast<std::size_t>(row.size); ++i) {
            total += row.by[i] * motions.row(row.unknowns[i]).transpose();
        }
        see(total);
    }
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 6, 6>> eigen(seen, Eigen::EigenvaluesOnly);
    return eigen.eigenvalues()[0] < 1.0 / (k_unknown_sd_mm * k_unknown_sd_mm);
}

}  // namespace

Freedom freedom_of(const Network& network, const Placing& placing) {
    Freedom freedom;
    const Eigen::MatrixXd through = stands_fast(network, placing) ? Eigen::MatrixXd::Zero(network.unknowns(), k_loads)
                                                                  : let_through(network, placing.values);
    for (int p = 0; p < network.points(); ++p) {
        const Eigen::Matrix<double, 3, k_loads> own = through.block<3, k_loads>(3 * p, 0);
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(own * own.transpose());
        int count = 0;
        for (int i = 0; i < 3; ++i) {
            count += std::sqrt(std::max(eigen.eigenvalues()[i], 0.0)) > k_let_through ? 1 : 0;
        }
        freedom.directions.push_back(count);
        freedom.axes.push_back(eigen.eigenvectors().rowwise().reverse());
    }
    for (int s = 0; s < static_cast<int>(network.set_ups.size()); ++s) {
        freedom.lean.push_back(through.block(network.lean(s), 0, 2, k_loads).norm() > k_let_through);
    }
    freedom.frame = frame_is_free(network, placing.values);
    return freedom;
}

}  // namespace sillwright::core::survey
