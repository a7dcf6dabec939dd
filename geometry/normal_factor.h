#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <memory>
#include <optional>

namespace sillwright::geometry {

/// A symmetric positive definite matrix factorised: solving with it, and entries of its inverse.
///
/// Dense where it is small or would fill up, else sparse (minimum degree order). The matrix is scaled to a unit
/// diagonal first, so what its unknowns are measured in does not matter. A value: copies share what they hold.
class NormalFactor {
public:
    /// Of the lower triangle of `matrix`. None if it is singular: if a pivot of the scaled matrix is below
    /// k_least_pivot.
    static std::optional<NormalFactor> of(const Eigen::SparseMatrix<double>& matrix);

    [[nodiscard]] Eigen::MatrixXd solve(const Eigen::MatrixXd& right) const;

    /// Computes what inverse_entry gives.
    void invert();

    /// Entry (i, j) of the inverse, if it is at hand: all entries if dense, else those of the factor's pattern, which
    /// holds all entries that the matrix has. None before `invert`.
    /// Source: K. Takahashi, J. Fagan, M.-S. Chen, 8th PICA Conference, 1973 (from memory).
    [[nodiscard]] std::optional<double> inverse_entry(int i, int j) const;

private:
    struct Dense;
    struct Sparse;
    Eigen::VectorXd scale_;  ///< 1 / sqrt(diagonal).
    std::shared_ptr<const Dense> dense_;
    std::shared_ptr<const Sparse> sparse_;  ///< One of the two.
};

/// An unknown whose pivot is smaller is determined 300 000 times worse than it would be if all others were known: no
/// survey is like that, and rounding makes pivots of 1e-13 out of true zeros.
constexpr double k_least_pivot = 1e-11;

/// The unknown that a singular matrix leaves free: that of the first pivot that vanishes. None if it is regular.
std::optional<int> free_unknown(const Eigen::SparseMatrix<double>& matrix);

}  // namespace sillwright::geometry
