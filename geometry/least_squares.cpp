#include "geometry/least_squares.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>

#include "geometry/normal_factor.h"

namespace sillwright::geometry {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::SparseMatrix;
using Eigen::VectorXd;

namespace {

using Equations = std::span<const ObservationEquation>;

/// A step this small, in sds of every combination of the parameters, changes nothing that anybody reads.
constexpr double k_last_step = 1e-10;
/// Rounding of an observation and of what it is computed from, in units of their size.
constexpr double k_rounding = 4.0 * std::numeric_limits<double>::epsilon();
/// Quadratic convergence takes 5 to 10; heavy damping some tens.
constexpr int k_most_iterations = 200;
constexpr double k_first_damping = 1e-4;
constexpr double k_damping_factor = 10.0;
constexpr double k_least_damping = 1e-7;  ///< Below it the step is the undamped one to 7 digits: damping ends.
constexpr double k_most_damping = 1e12;
/// An undamped step has the right length if the sum's slope at its end is nearly nought: if the length at which it
/// would be nought is this near to one.
constexpr double k_right_length = 0.2;
constexpr double k_least_length = 0.1;
constexpr double k_most_length = 4.0;
/// A damped step that still gains less than this (in sds) has come to rest although the matrix is singular.
constexpr double k_damped_rest = 1e-6;

/// The equations at one place, all over their sds.
struct Linear {
    VectorXd misfit;  ///< (computed - observed) / sd.
    std::vector<std::size_t> first;
    std::vector<double> partials;  ///< From first[i] on: of equation i, in its parameters' order.
    double sum = 0.0;
    double rounding = 0.0;  ///< Of the misfits' norm.

    [[nodiscard]] std::span<const double> row(std::size_t i) const {
        return std::span(partials).subspan(first[i], first[i + 1] - first[i]);
    }
};

Linear linearise(Equations equations, const VectorXd& at) {
    Linear linear;
    linear.misfit.resize(std::ssize(equations));
    linear.first.assign(1, 0);
    for (const ObservationEquation& equation : equations) {
        linear.first.push_back(linear.first.back() + equation.parameters.size());
    }
    linear.partials.resize(linear.first.back());
    std::vector<double> values;
    double rounding = 0.0;
    for (std::size_t i = 0; i < equations.size(); ++i) {
        const ObservationEquation& equation = equations[i];
        values.clear();
        for (const int parameter : equation.parameters) {
            values.push_back(at[parameter]);
        }
        const auto partials = std::span(linear.partials).subspan(linear.first[i], values.size());
        const double computed = equation.computed(values, partials);
        double size = std::abs(equation.observed);
        for (std::size_t k = 0; k < values.size(); ++k) {
            size += std::abs(partials[k] * values[k]);
            partials[k] /= equation.sd;
        }
        rounding += std::pow(k_rounding * size / equation.sd, 2);
        linear.misfit[static_cast<Index>(i)] = (computed - equation.observed) / equation.sd;
    }
    linear.sum = linear.misfit.squaredNorm();
    linear.rounding = std::sqrt(rounding);
    return linear;
}

/// Lower triangle of the normal matrix.
SparseMatrix<double> normal_matrix(Equations equations, const Linear& linear, Index parameters) {
    std::vector<Eigen::Triplet<double>> entries;
    for (std::size_t i = 0; i < equations.size(); ++i) {
        const auto row = linear.row(i);
        const std::vector<int>& of = equations[i].parameters;
        for (std::size_t a = 0; a < row.size(); ++a) {
            for (std::size_t b = 0; b < row.size(); ++b) {
                if (of[a] >= of[b]) {
                    entries.emplace_back(of[a], of[b], row[a] * row[b]);
                }
            }
        }
    }
    SparseMatrix<double> normal(parameters, parameters);
    normal.setFromTriplets(entries.begin(), entries.end());
    return normal;
}

/// Half the gradient of the sum.
VectorXd gradient_of(Equations equations, const Linear& linear, Index parameters) {
    VectorXd gradient = VectorXd::Zero(parameters);
    for (std::size_t i = 0; i < equations.size(); ++i) {
        const auto row = linear.row(i);
        for (std::size_t k = 0; k < row.size(); ++k) {
            gradient[equations[i].parameters[k]] += row[k] * linear.misfit[static_cast<Index>(i)];
        }
    }
    return gradient;
}

SparseMatrix<double> damped(SparseMatrix<double> normal, double damping) {
    if (damping > 0.0) {
        normal.diagonal() *= 1.0 + damping;
    }
    return normal;
}

Error refused(const std::string& what) {
    return {ErrorCode::invalid_argument, what};
}

std::optional<Error> fault_of(Equations equations, const VectorXd& start) {
    for (std::size_t i = 0; i < equations.size(); ++i) {
        const ObservationEquation& equation = equations[i];
        const std::string which = "Observation " + std::to_string(i + 1);
        if (!(equation.sd > 0.0 && std::isfinite(equation.sd))) {
            return refused(which + " has a standard deviation that is not above zero.");
        }
        if (!std::isfinite(equation.observed)) {
            return refused(which + " is not a number.");
        }
        for (const int parameter : equation.parameters) {
            if (parameter < 0 || parameter >= start.size()) {
                return refused(which + " names parameter " + std::to_string(parameter) + ", and there are " +
                               std::to_string(start.size()) + ".");
            }
        }
    }
    return start.allFinite() ? std::nullopt : std::optional(refused("A parameter starts from what is not a number."));
}

Error singular(Equations equations, const VectorXd& at, const Linear& linear) {
    const auto free = free_unknown(normal_matrix(equations, linear, at.size()));
    return {ErrorCode::does_not_fit,
            "The observations do not determine parameter " + (free ? std::to_string(*free) : "?") + "."};
}

Error not_converged() {
    return {ErrorCode::does_not_fit,
            "The adjustment did not come to rest: the observations fit together nowhere near."};
}

/// What to multiply an undamped step by so that the sum is least along it, by the slopes at both its ends. Where the
/// equations bend much over a few sds (a point nearly in the plane of its ties), whole steps swing from side to side.
double length_of(const VectorXd& step, const VectorXd& gradient, const VectorXd& gradient_there) {
    const double slope = -gradient.dot(step);
    const double bend = slope + gradient_there.dot(step);
    return bend > 0.0 ? std::clamp(slope / bend, k_least_length, k_most_length) : k_most_length;
}

/// A place to go on from.
struct Next {
    VectorXd at;
    Linear linear;
};

Next stepped(Equations equations, const VectorXd& at, const VectorXd& step) {
    VectorXd next = at + step;
    Linear linear = linearise(equations, next);
    return {std::move(next), std::move(linear)};
}

/// An undamped step, of the right length where that is known to be better.
Next undamped(Equations equations, const VectorXd& at, const VectorXd& step, const VectorXd& gradient, double slack) {
    Next whole = stepped(equations, at, step);
    if (!std::isfinite(whole.linear.sum)) {
        return whole;
    }
    const double length = length_of(step, gradient, gradient_of(equations, whole.linear, at.size()));
    if (std::abs(length - 1.0) <= k_right_length) {
        return whole;
    }
    Next other = stepped(equations, at, length * step);
    return other.linear.sum <= whole.linear.sum + slack ? other : whole;
}

/// Where the adjustment came to rest.
struct Rest {
    VectorXd at;
    Linear linear;
    NormalFactor factor;
    int iterations = 0;
};

Result<Rest> iterate(Equations equations, VectorXd at) {
    Linear linear = linearise(equations, at);
    if (!std::isfinite(linear.sum)) {
        return refused("An observation has no finite value at the start.");
    }
    double damping = 0.0;
    for (int iteration = 1; iteration <= k_most_iterations; ++iteration) {
        const SparseMatrix<double> normal = normal_matrix(equations, linear, at.size());
        const VectorXd gradient = gradient_of(equations, linear, at.size());
        const auto factor = NormalFactor::of(damped(normal, damping));
        if (!factor) {
            if (free_unknown(normal) && (normal.diagonal().array() <= 0.0).any()) {
                return singular(equations, at, linear);  // no damping helps a parameter that nothing depends on
            }
            damping = std::max(k_first_damping, damping * k_damping_factor);
            if (damping > k_most_damping) {
                return singular(equations, at, linear);
            }
            continue;
        }
        const VectorXd step = -factor->solve(gradient);
        const double size = std::sqrt(std::max(0.0, -gradient.dot(step)));  // in sds
        if (damping == 0.0 && size <= std::max(k_last_step, linear.rounding)) {
            return Rest{std::move(at), std::move(linear), *factor, iteration};
        }
        if (damping > 0.0 && size <= k_damped_rest) {
            if (!NormalFactor::of(normal)) {
                return singular(equations, at, linear);
            }
            damping = 0.0;
            continue;
        }
        const double slack = 4.0 * linear.rounding * (std::sqrt(linear.sum) + linear.rounding);
        Next next = damping > 0.0 ? stepped(equations, at, step) : undamped(equations, at, step, gradient, slack);
        if (next.linear.sum <= linear.sum + slack) {
            at = std::move(next.at);
            linear = std::move(next.linear);
            damping = damping > k_least_damping ? damping / k_damping_factor : 0.0;
        } else {
            damping = std::max(k_first_damping, damping * k_damping_factor);
            if (damping > k_most_damping) {
                return not_converged();
            }
        }
    }
    return NormalFactor::of(normal_matrix(equations, linear, at.size())) ? not_converged()
                                                                         : singular(equations, at, linear);
}

}  // namespace

struct LeastSquares::Held {
    VectorXd at;
    std::vector<AdjustedObservation> observations;
    std::vector<std::vector<int>> parameters;  ///< Of each observation.
    Linear linear;
    NormalFactor factor;
    int iterations;

    [[nodiscard]] MatrixXd covariance(std::span<const int> of) const {
        const auto n = std::ssize(of);
        MatrixXd found(n, n);
        for (Index a = 0; a < n; ++a) {
            for (Index b = 0; b <= a; ++b) {
                const auto entry =
                    factor.inverse_entry(of[static_cast<std::size_t>(a)], of[static_cast<std::size_t>(b)]);
                if (!entry) {
                    return columns(of)(std::vector<int>(of.begin(), of.end()), Eigen::all);
                }
                found(a, b) = found(b, a) = *entry;
            }
        }
        return found;
    }

    [[nodiscard]] MatrixXd columns(std::span<const int> of) const {
        MatrixXd unit = MatrixXd::Zero(at.size(), std::ssize(of));
        for (std::size_t k = 0; k < of.size(); ++k) {
            unit(of[k], static_cast<Index>(k)) = 1.0;
        }
        return factor.solve(unit);
    }

    [[nodiscard]] Eigen::Map<const VectorXd> row(std::size_t i) const {
        const auto row = linear.row(i);
        return {row.data(), std::ssize(row)};
    }

    /// Share of an observation's variance that the adjusted value keeps.
    [[nodiscard]] double leverage(std::size_t i) const { return row(i).dot(covariance(parameters[i]) * row(i)); }
};

const VectorXd& LeastSquares::parameters() const {
    return held_->at;
}
const std::vector<AdjustedObservation>& LeastSquares::observations() const {
    return held_->observations;
}
double LeastSquares::sum_of_squares() const {
    return held_->linear.sum;
}
int LeastSquares::degrees_of_freedom() const {
    return static_cast<int>(std::ssize(held_->observations) - held_->at.size());
}
int LeastSquares::iterations() const {
    return held_->iterations;
}
MatrixXd LeastSquares::covariance(std::span<const int> parameters) const {
    return held_->covariance(parameters);
}
MatrixXd LeastSquares::covariance_columns(std::span<const int> parameters) const {
    return held_->columns(parameters);
}

VectorXd LeastSquares::residual_covariances(std::size_t a) const {
    VectorXd right = VectorXd::Zero(held_->at.size());
    right(held_->parameters[a]) = held_->row(a);
    const VectorXd solved = held_->factor.solve(right);
    VectorXd found(std::ssize(held_->observations));
    for (std::size_t i = 0; i < held_->observations.size(); ++i) {
        found[static_cast<Index>(i)] = (i == a ? 1.0 : 0.0) - held_->row(i).dot(solved(held_->parameters[i]));
    }
    return found;
}

double LeastSquares::residual_covariance(std::size_t a, std::size_t b) const {
    return residual_covariances(a)[static_cast<Index>(b)];
}

Result<std::shared_ptr<const LeastSquares>> least_squares(Equations equations, const VectorXd& start) {
    if (const auto fault = fault_of(equations, start)) {
        return *fault;
    }
    auto found = iterate(equations, start);
    if (!found) {
        return found.error();
    }
    Rest rest = std::move(found).value();
    rest.factor.invert();
    auto held = std::make_shared<LeastSquares::Held>(
        LeastSquares::Held{std::move(rest.at), {}, {}, std::move(rest.linear), rest.factor, rest.iterations});
    for (std::size_t i = 0; i < equations.size(); ++i) {
        held->parameters.push_back(equations[i].parameters);
        const double residual = held->linear.misfit[static_cast<Index>(i)] * equations[i].sd;
        held->observations.push_back(
            {equations[i].observed + residual, residual, std::clamp(1.0 - held->leverage(i), 0.0, 1.0)});
    }
    return std::shared_ptr<const LeastSquares>(new LeastSquares(std::move(held)));
}

std::optional<int> free_parameter(Equations equations, const VectorXd& at) {
    return free_unknown(normal_matrix(equations, linearise(equations, at), at.size()));
}

}  // namespace sillwright::geometry
