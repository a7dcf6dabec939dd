#include "geometry/normal_factor.h"

#include <Eigen/Cholesky>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>
#include <vector>

namespace sillwright::geometry {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::SparseMatrix;
using Eigen::VectorXd;

namespace {

/// Up to here a dense factor is as quick as a sparse one, and gives the whole inverse.
constexpr Index k_small = 128;
/// A factor that is filled further is quicker computed in dense blocks (measured with 1500 unknowns).
constexpr double k_full = 0.3;

class Ldlt : public Eigen::SimplicialLDLT<SparseMatrix<double>> {
public:
    /// Entries below the diagonal of the factor, known once the pattern is analysed.
    [[nodiscard]] double fill() const { return m_nonZerosPerCol.cast<double>().sum(); }
    [[nodiscard]] const SparseMatrix<double>& below_diagonal() const { return m_matrix; }
    [[nodiscard]] Index place_of(Index unknown) const { return m_P.size() > 0 ? m_P.indices()[unknown] : unknown; }
};

std::optional<VectorXd> scale_of(const SparseMatrix<double>& matrix) {
    const VectorXd diagonal = matrix.diagonal();
    if (!(diagonal.array() > 0.0).all()) {
        return std::nullopt;
    }
    return VectorXd(diagonal.array().rsqrt());
}

SparseMatrix<double> scaled(const SparseMatrix<double>& matrix, const VectorXd& scale) {
    return scale.asDiagonal() * matrix * scale.asDiagonal();
}

/// Entries of (L D Lᵀ)⁻¹ where L has entries, and on the diagonal.
struct Selected {
    std::vector<double> below, diagonal;
};

/// Column by column from the last: Z(i, j) = -Σ Z(i, k) L(k, j) over the rows k of L's column j, all of which are in
/// the pattern, and Z(j, j) = 1/D(j) - Σ L(k, j) Z(k, j).
Selected selected_inverse(const Ldlt& ldlt) {
    const SparseMatrix<double>& l = ldlt.below_diagonal();
    const VectorXd pivots = ldlt.vectorD();
    const Index n = l.cols();
    Selected z{std::vector<double>(static_cast<std::size_t>(l.nonZeros())),
               std::vector<double>(static_cast<std::size_t>(n))};
    std::vector<double> l_of_row(static_cast<std::size_t>(n), 0.0);  // L(., j), scattered
    std::vector<double> sum(static_cast<std::size_t>(n), 0.0);
    const auto* outer = l.outerIndexPtr();
    const auto* inner = l.innerIndexPtr();
    const double* value = l.valuePtr();
    const auto at = [](Index i) { return static_cast<std::size_t>(i); };
    for (Index j = n - 1; j >= 0; --j) {
        for (Index p = outer[j]; p < outer[j + 1]; ++p) {
            l_of_row[at(inner[p])] = value[p];
            sum[at(inner[p])] = 0.0;
        }
        for (Index p = outer[j]; p < outer[j + 1]; ++p) {
            const Index k = inner[p];
            double own = z.diagonal[at(k)] * value[p];
            for (Index q = outer[k]; q < outer[k + 1]; ++q) {
                const Index i = inner[q];
                // Rows that column j has not have a zero here, and their sums are never read.
                own += z.below[at(q)] * l_of_row[at(i)];
                sum[at(i)] += z.below[at(q)] * value[p];
            }
            sum[at(k)] += own;
        }
        double diagonal = 1.0 / pivots[j];
        for (Index p = outer[j]; p < outer[j + 1]; ++p) {
            z.below[at(p)] = -sum[at(inner[p])];
            diagonal -= value[p] * z.below[at(p)];
            l_of_row[at(inner[p])] = 0.0;
        }
        z.diagonal[at(j)] = diagonal;
    }
    return z;
}

}  // namespace

struct NormalFactor::Dense {
    Eigen::LLT<MatrixXd> factor;
    MatrixXd inverse;
};

struct NormalFactor::Sparse {
    std::shared_ptr<const Ldlt> factor;
    Selected inverse;
};

std::optional<NormalFactor> NormalFactor::of(const SparseMatrix<double>& matrix) {
    const auto scale = scale_of(matrix);
    if (!scale) {
        return std::nullopt;
    }
    NormalFactor made;
    made.scale_ = *scale;
    const Index n = matrix.cols();
    const SparseMatrix<double> unit = scaled(matrix, *scale);
    if (n > k_small) {
        auto factor = std::make_shared<Ldlt>();
        factor->analyzePattern(unit);
        if (factor->fill() <= k_full * 0.5 * static_cast<double>(n) * static_cast<double>(n)) {
            factor->factorize(unit);
            if (factor->info() != Eigen::Success || !(factor->vectorD().minCoeff() > k_least_pivot)) {
                return std::nullopt;
            }
            made.sparse_ = std::make_shared<const Sparse>(Sparse{std::move(factor), {}});
            return made;
        }
    }
    auto dense = std::make_shared<Dense>();
    dense->factor.compute(MatrixXd(unit));
    const auto pivots = dense->factor.matrixLLT().diagonal().array().square();
    if (dense->factor.info() != Eigen::Success || (n > 0 && !(pivots.minCoeff() > k_least_pivot))) {
        return std::nullopt;
    }
    made.dense_ = std::move(dense);
    return made;
}

MatrixXd NormalFactor::solve(const MatrixXd& right) const {
    const MatrixXd by_scale = scale_.asDiagonal() * right;
    const MatrixXd solved =
        dense_ ? MatrixXd(dense_->factor.solve(by_scale)) : MatrixXd(sparse_->factor->solve(by_scale));
    return scale_.asDiagonal() * solved;
}

void NormalFactor::invert() {
    if (dense_) {
        const Index n = scale_.size();
        dense_ = std::make_shared<const Dense>(Dense{dense_->factor, dense_->factor.solve(MatrixXd::Identity(n, n))});
    } else {
        sparse_ = std::make_shared<const Sparse>(Sparse{sparse_->factor, selected_inverse(*sparse_->factor)});
    }
}

std::optional<double> NormalFactor::inverse_entry(int i, int j) const {
    const double scale = scale_[i] * scale_[j];
    if (dense_) {
        return dense_->inverse.size() == 0 ? std::nullopt : std::optional(scale * dense_->inverse(i, j));
    }
    if (sparse_->inverse.diagonal.empty()) {
        return std::nullopt;
    }
    const Index place_i = sparse_->factor->place_of(i);
    const Index place_j = sparse_->factor->place_of(j);
    const Index column = std::min(place_i, place_j);
    const Index row = std::max(place_i, place_j);
    if (column == row) {
        return scale * sparse_->inverse.diagonal[static_cast<std::size_t>(row)];
    }
    const SparseMatrix<double>& l = sparse_->factor->below_diagonal();
    const auto* begin = l.innerIndexPtr() + l.outerIndexPtr()[column];
    const auto* end = l.innerIndexPtr() + l.outerIndexPtr()[column + 1];
    const auto* found = std::lower_bound(begin, end, row);
    if (found == end || *found != row) {
        return std::nullopt;
    }
    return scale * sparse_->inverse.below[static_cast<std::size_t>(found - l.innerIndexPtr())];
}

std::optional<int> free_unknown(const SparseMatrix<double>& matrix) {
    const VectorXd diagonal = matrix.diagonal();
    for (Index i = 0; i < diagonal.size(); ++i) {
        if (!(diagonal[i] > 0.0)) {
            return static_cast<int>(i);
        }
    }
    if (diagonal.size() == 0) {
        return std::nullopt;
    }
    Ldlt factor;
    factor.compute(scaled(matrix, diagonal.array().rsqrt()));
    const VectorXd pivots = factor.vectorD();
    for (Index place = 0; place < pivots.size(); ++place) {
        if (!(pivots[place] > k_least_pivot)) {
            for (Index i = 0; i < pivots.size(); ++i) {
                if (factor.place_of(i) == place) {
                    return static_cast<int>(i);
                }
            }
        }
    }
    return std::nullopt;
}

}  // namespace sillwright::geometry
