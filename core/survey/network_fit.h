#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <span>

#include "core/survey/network.h"

/// Damped, robust least squares on a network: what is far off pulls no harder than at k_far sds, so that one gross
/// blunder does not carry the others away.
/// Source: Levenberg-Marquardt with Huber's weights (P. J. Huber, Robust Statistics, 1981, from memory).
namespace sillwright::core::survey {

constexpr double k_far = 3.0;  ///< Sds.

/// What one number adds to the sum that is made small: miss^2, beyond k_far only in proportion.
double robust_square(double miss);

/// Sum over these numbers.
double robust_sum(const Network& network, std::span<const int> numbers, const Eigen::VectorXd& values, bool loose);

/// A minimum near where `values` stood.
struct FewFit {
    double sum = 0.0;
    Eigen::MatrixXd normal;  ///< Of the unknowns, at the end.
};

/// Moves only `unknowns` (few: dense), by these numbers only. Never fails: at worst it stays where it was.
FewFit fit_few(const Network& network, std::span<const int> unknowns, std::span<const int> numbers, bool loose,
               int iterations, Eigen::VectorXd& values);

/// Moves all unknowns that are not held, by all numbers (sparse). Returns the sum.
double fit_all(const Network& network, int iterations, Eigen::VectorXd& values);

/// Normal matrix of all unknowns that are not held, with their indices.
struct WholeNormal {
    std::vector<int> unknowns;  ///< By column.
    std::vector<int> column;    ///< By unknown; -1 if held.
    Eigen::SparseMatrix<double> matrix;
    Eigen::VectorXd gradient;
};
WholeNormal whole_normal(const Network& network, const Eigen::VectorXd& values, bool robust);

}  // namespace sillwright::core::survey
