#pragma once

#include <Eigen/Core>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "geometry/result.h"

namespace sillwright::geometry {

/// One observed number as a function of a few parameters.
struct ObservationEquation {
    double observed = 0.0;
    double sd = 1.0;              ///< > 0, in the unit of `observed`.
    std::vector<int> parameters;  ///< Indices of the parameters that it depends on, none twice.
    /// The number that `values` (of `parameters`, in that order) give, its partial derivatives into `partials`.
    std::function<double(std::span<const double> values, std::span<double> partials)> computed;
};

/// What is known of one observation after the adjustment.
struct AdjustedObservation {
    double adjusted = 0.0;
    double residual = 0.0;    ///< adjusted - observed.
    double redundancy = 0.0;  ///< Its share of the degrees of freedom, 0 to 1.
};

/// A weighted least-squares adjustment that has converged, with its covariance. A value: copies share what they hold.
///
/// Values are in the units of parameters and observations. Covariances are from the stated sds (not scaled by the
/// residuals).
/// Source: E. M. Mikhail, F. Ackermann, Observations and Least Squares, 1976 (from memory); W. Baarda, A testing
///   procedure for use in geodetic networks, 1968 (from memory).
class LeastSquares {
public:
    [[nodiscard]] const Eigen::VectorXd& parameters() const;
    [[nodiscard]] const std::vector<AdjustedObservation>& observations() const;
    [[nodiscard]] double sum_of_squares() const;  ///< Of residual / sd.
    [[nodiscard]] int degrees_of_freedom() const;
    [[nodiscard]] int iterations() const;

    /// Covariance of the given parameters, in this order. Quick for parameters that share an observation.
    [[nodiscard]] Eigen::MatrixXd covariance(std::span<const int> parameters) const;
    /// Covariance of all parameters (rows) with the given ones (columns).
    [[nodiscard]] Eigen::MatrixXd covariance_columns(std::span<const int> parameters) const;
    /// Covariance of two residuals over their sds: the correlation says whether two blunders can be told apart.
    [[nodiscard]] double residual_covariance(std::size_t a, std::size_t b) const;
    /// The same of one with all.
    [[nodiscard]] Eigen::VectorXd residual_covariances(std::size_t a) const;

private:
    struct Held;
    explicit LeastSquares(std::shared_ptr<const Held> held) : held_{std::move(held)} {}
    friend Result<std::shared_ptr<const LeastSquares>> least_squares(std::span<const ObservationEquation> equations,
                                                                     const Eigen::VectorXd& start);

    std::shared_ptr<const Held> held_;
};

/// Gauss-Newton from `start`: a step is lengthened or shortened where the sum's slope at its end says so, and damped
/// where it does not reduce the sum.
///
/// Accuracy: the last step is below 1e-10 of each parameter's sd, or below what the rounding of the observations
/// allows. Errors: invalid_argument for an sd that is not above zero, an index out of range, a number that is not
/// finite;
///   does_not_fit if the normal matrix is singular (the message names a parameter that nothing determines, by its
///   index) or it does not converge.
Result<std::shared_ptr<const LeastSquares>> least_squares(std::span<const ObservationEquation> equations,
                                                          const Eigen::VectorXd& start);

/// A parameter that the equations leave free when they are linearised at `at`; none if they determine all.
/// Precondition: indices in range, sds above zero.
std::optional<int> free_parameter(std::span<const ObservationEquation> equations, const Eigen::VectorXd& at);

}  // namespace sillwright::geometry
