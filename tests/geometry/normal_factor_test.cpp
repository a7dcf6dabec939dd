#include "geometry/normal_factor.h"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace sillwright::geometry {
namespace {

using Eigen::MatrixXd;

/// A chain of n unknowns, each tied to its two neighbours and every seventh to the ground: sparse, regular.
Eigen::SparseMatrix<double> chain(int n) {
    Eigen::SparseMatrix<double> matrix(n, n);
    for (int i = 0; i < n; ++i) {
        matrix.coeffRef(i, i) = 2.0 + (i % 7 == 0 ? 0.5 + 0.01 * i : 0.001);
        if (i > 0) {
            matrix.coeffRef(i, i - 1) = -1.0;
        }
        if (i > 1) {
            matrix.coeffRef(i, i - 2) = 0.001 * i / n;
        }
    }
    return matrix;
}

MatrixXd whole(const Eigen::SparseMatrix<double>& lower) {
    const Eigen::SparseMatrix<double> both = lower.selfadjointView<Eigen::Lower>();
    return MatrixXd(both);
}

// Small ones are dense, large ones sparse; the judge is Eigen's inverse by LU.
class OfSize : public testing::TestWithParam<int> {};

TEST_P(OfSize, SolvesAndInvertsLikeAnInverse) {
    const auto matrix = chain(GetParam());
    const MatrixXd inverse = whole(matrix).inverse();
    auto factor = NormalFactor::of(matrix);
    ASSERT_TRUE(factor);
    const MatrixXd unit = MatrixXd::Identity(matrix.rows(), matrix.rows());
    EXPECT_LT((factor->solve(unit) - inverse).cwiseAbs().maxCoeff(), 1e-10);
    EXPECT_FALSE(factor->inverse_entry(0, 0));
    factor->invert();
    for (int i = 0; i < GetParam(); ++i) {
        for (int j = std::max(0, i - 2); j <= i; ++j) {
            const auto entry = factor->inverse_entry(i, j);
            ASSERT_TRUE(entry) << i << " " << j;
            EXPECT_NEAR(*entry, inverse(i, j), 1e-10);
            EXPECT_NEAR(*factor->inverse_entry(j, i), inverse(i, j), 1e-10);
        }
    }
    EXPECT_FALSE(free_unknown(matrix));
}
INSTANTIATE_TEST_SUITE_P(NormalFactor, OfSize, testing::Values(1, 2, 60, 400));

TEST(NormalFactor, DoesNotMindTheUnits) {
    auto matrix = chain(5);
    const Eigen::VectorXd units =
        Eigen::VectorXd::LinSpaced(5, -6.0, 6.0).unaryExpr([](double e) { return std::pow(10.0, e); });
    const Eigen::SparseMatrix<double> other = units.asDiagonal() * matrix * units.asDiagonal();
    EXPECT_TRUE(NormalFactor::of(other));
}

TEST(NormalFactor, NamesWhatIsFree) {
    for (const int n : {4, 300}) {
        auto loose = chain(n);
        loose.coeffRef(2, 2) = 0.0;  // nothing holds it
        EXPECT_FALSE(NormalFactor::of(loose));
        EXPECT_EQ(free_unknown(loose), 2);
    }
    // Two unknowns of which only the difference is known.
    Eigen::SparseMatrix<double> difference(2, 2);
    difference.coeffRef(0, 0) = difference.coeffRef(1, 1) = 1.0;
    difference.coeffRef(1, 0) = -1.0;
    EXPECT_FALSE(NormalFactor::of(difference));
    EXPECT_TRUE(free_unknown(difference));
}

TEST(NormalFactor, NothingIsRegular) {
    const Eigen::SparseMatrix<double> nothing(0, 0);
    ASSERT_TRUE(NormalFactor::of(nothing));
    EXPECT_FALSE(free_unknown(nothing));
}

}  // namespace
}  // namespace sillwright::geometry
