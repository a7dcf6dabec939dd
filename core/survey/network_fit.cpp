#include "core/survey/network_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <numeric>

namespace sillwright::core::survey {

using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

/// Damping, as a share of the diagonal: where it starts, how it changes, when it is given up.
constexpr double k_first_damping = 1e-3;
constexpr double k_damping_change = 10.0;
constexpr double k_least_damping = 1e-12;
constexpr double k_most_damping = 1e8;
/// Keeps unknowns that nothing touches where they are; far below one over the square of any sd.
constexpr double k_floor = 1e-9;
/// A start need not be better than this.
constexpr double k_step_enough_mm = 1e-5;
constexpr double k_sum_enough = 1e-10;
/// Nor is one more round with all worth its time if the last gained no more than this: far less than is told apart.
constexpr double k_whole_sum_enough = 0.01;
constexpr double k_whole_sum_enough_a_number = 2e-3;

double robust_weight(double miss) {
    const double size = std::abs(miss);
    return size <= k_far ? 1.0 : k_far / size;
}

std::vector<int> all_numbers(const Network& network) {
    std::vector<int> all(network.numbers.size());
    std::iota(all.begin(), all.end(), 0);
    return all;
}

const NetworkNumber& number_at(const Network& network, int index) {
    return network.numbers[static_cast<std::size_t>(index)];
}

struct FewNormal {
    MatrixXd matrix;
    VectorXd gradient;
};

FewNormal few_normal(const Network& network, std::span<const int> unknowns, std::span<const int> numbers,
                     const VectorXd& values, bool loose) {
    const auto n = static_cast<Eigen::Index>(unknowns.size());
    FewNormal normal{MatrixXd::Zero(n, n), VectorXd::Zero(n)};
    std::array<Eigen::Index, 15> at{};
    for (const int index : numbers) {
        const NetworkRow row = row_of(network, number_at(network, index), values, loose);
        const double weight = robust_weight(row.miss);
        for (int i = 0; i < row.size; ++i) {
            const auto k = static_cast<std::size_t>(i);
            const auto found = std::find(unknowns.begin(), unknowns.end(), row.unknowns[k]);
            at[k] = found == unknowns.end() ? -1 : found - unknowns.begin();
        }
        for (std::size_t i = 0; i < static_cast<std::size_t>(row.size); ++i) {
            if (at[i] < 0) {
                continue;
            }
            normal.gradient[at[i]] += weight * row.by[i] * row.miss;
            for (std::size_t j = 0; j < static_cast<std::size_t>(row.size); ++j) {
                if (at[j] >= 0) {
                    normal.matrix(at[i], at[j]) += weight * row.by[i] * row.by[j];
                }
            }
        }
    }
    return normal;
}

VectorXd taken(const VectorXd& values, std::span<const int> unknowns) {
    VectorXd few(static_cast<Eigen::Index>(unknowns.size()));
    for (std::size_t i = 0; i < unknowns.size(); ++i) {
        few[static_cast<Eigen::Index>(i)] = values[unknowns[i]];
    }
    return few;
}

void put(const VectorXd& few, std::span<const int> unknowns, VectorXd& values) {
    for (std::size_t i = 0; i < unknowns.size(); ++i) {
        values[unknowns[i]] = few[static_cast<Eigen::Index>(i)];
    }
}

/// The moves of a damped fit, whatever solves its normal equations: `solve(damping)` gives a step from where the last
/// `settle()` left the normal matrix, `sum()` says what the values are worth.
template <class Settle, class Solve, class Sum>
double damped_moves(std::span<const int> unknowns, int iterations, double enough, VectorXd& values,
                    const Settle& settle, const Solve& solve, const Sum& sum) {
    double best = sum();
    double damping = k_first_damping;
    for (int i = 0; i < iterations; ++i) {
        settle();
        bool moved_on = false;
        double step_size = 0.0;
        double gain = 0.0;
        const VectorXd before = taken(values, unknowns);
        while (!moved_on && damping < k_most_damping) {
            const VectorXd step = solve(damping);
            put(before + step, unknowns, values);
            const double next_sum = sum();
            if (next_sum < best) {
                gain = best - next_sum;
                step_size = step.size() == 0 ? 0.0 : step.lpNorm<Eigen::Infinity>();
                best = next_sum;
                damping = std::max(damping / k_damping_change, k_least_damping);
                moved_on = true;
            } else {
                put(before, unknowns, values);
                damping *= k_damping_change;
            }
        }
        if (!moved_on || step_size < k_step_enough_mm || gain < enough + k_sum_enough * best) {
            break;
        }
    }
    return best;
}

}  // namespace

double robust_square(double miss) {
    const double size = std::abs(miss);
    return size <= k_far ? miss * miss : k_far * (2.0 * size - k_far);
}

double robust_sum(const Network& network, std::span<const int> numbers, const VectorXd& values, bool loose) {
    double sum = 0.0;
    for (const int index : numbers) {
        sum += robust_square(row_of(network, number_at(network, index), values, loose).miss);
    }
    return sum;
}

FewFit fit_few(const Network& network, std::span<const int> unknowns, std::span<const int> numbers, bool loose,
               int iterations, VectorXd& values) {
    FewNormal normal;
    FewFit fit;
    fit.sum = damped_moves(
        unknowns, iterations, k_sum_enough, values,
        [&] { normal = few_normal(network, unknowns, numbers, values, loose); },
        [&](double damping) -> VectorXd {
            MatrixXd damped = normal.matrix;
            damped.diagonal() += damping * normal.matrix.diagonal();
            damped.diagonal().array() += k_floor;
            return -damped.ldlt().solve(normal.gradient);
        },
        [&] { return robust_sum(network, numbers, values, loose); });
    fit.normal = few_normal(network, unknowns, numbers, values, loose).matrix;
    return fit;
}

WholeNormal whole_normal(const Network& network, const VectorXd& values, bool robust) {
    WholeNormal normal;
    normal.column.assign(static_cast<std::size_t>(network.unknowns()), -1);
    for (int u = 0; u < network.unknowns(); ++u) {
        if (!network.held[static_cast<std::size_t>(u)]) {
            normal.column[static_cast<std::size_t>(u)] = static_cast<int>(normal.unknowns.size());
            normal.unknowns.push_back(u);
        }
    }
    const auto n = static_cast<Eigen::Index>(normal.unknowns.size());
    normal.gradient = VectorXd::Zero(n);
    std::vector<Eigen::Triplet<double>> entries;
    entries.reserve(network.numbers.size() * 24 + static_cast<std::size_t>(n));
    for (int i = 0; i < n; ++i) {
        entries.emplace_back(i, i, 0.0);  // so that the pattern has a whole diagonal
    }
    for (const NetworkNumber& number : network.numbers) {
        const NetworkRow row = row_of(network, number, values, false);
        const double weight = robust ? robust_weight(row.miss) : 1.0;
        for (std::size_t i = 0; i < static_cast<std::size_t>(row.size); ++i) {
            const int a = normal.column[static_cast<std::size_t>(row.unknowns[i])];
            normal.gradient[a] += weight * row.by[i] * row.miss;
            for (std::size_t j = 0; j < static_cast<std::size_t>(row.size); ++j) {
                const int b = normal.column[static_cast<std::size_t>(row.unknowns[j])];
                if (b <= a) {
                    entries.emplace_back(a, b, weight * row.by[i] * row.by[j]);
                }
            }
        }
    }
    normal.matrix.resize(n, n);
    normal.matrix.setFromTriplets(entries.begin(), entries.end());
    return normal;
}

double fit_all(const Network& network, int iterations, VectorXd& values) {
    WholeNormal normal = whole_normal(network, values, true);
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver;
    solver.analyzePattern(normal.matrix);
    const std::vector<int> unknowns = normal.unknowns;
    const std::vector<int> all = all_numbers(network);
    const double enough = k_whole_sum_enough + k_whole_sum_enough_a_number * static_cast<double>(all.size());
    return damped_moves(
        unknowns, iterations, enough, values, [&] { normal = whole_normal(network, values, true); },
        [&](double damping) -> VectorXd {
            Eigen::SparseMatrix<double> damped = normal.matrix;
            for (Eigen::Index i = 0; i < damped.rows(); ++i) {
                damped.coeffRef(i, i) += damping * damped.coeff(i, i) + k_floor;
            }
            solver.factorize(damped);
            return solver.info() == Eigen::Success ? VectorXd(-solver.solve(normal.gradient))
                                                   : VectorXd(VectorXd::Zero(damped.rows()));
        },
        [&] { return robust_sum(network, all, values, false); });
}

}  // namespace sillwright::core::survey
