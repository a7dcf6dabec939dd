#include "core/survey/lacking.h"

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

}  // namespace

Freedom freedom_of(const Network& network, const VectorXd& values) {
    const Eigen::MatrixXd through = let_through(network, values);
    Freedom freedom;
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
        freedom.lean_free.push_back(through.block(network.lean(s), 0, 2, k_loads).norm() > k_let_through);
    }
    return freedom;
}

std::vector<LackingPoint> lacking_points(const Network& network, const VectorXd& /*values*/, const Freedom& freedom) {
    std::vector<LackingPoint> lacking;
    for (int p = 0; p < network.points(); ++p) {
        if (freedom.directions[static_cast<std::size_t>(p)] > 0) {
            const std::string& name = network.names[static_cast<std::size_t>(p)];
            lacking.push_back({name, name + " is not fixed by its readings."});
        }
    }
    return lacking;
}

}  // namespace sillwright::core::survey
