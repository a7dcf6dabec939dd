#pragma once

#include <Eigen/Core>
#include <functional>
#include <memory>
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

/// A weighted least-squares adjustment that has converged, with its covariance.
///
/// Values are in the units of parameters and observations. Covariances are from the stated sds (not scaled by the
/// residuals).
/// Source: E. M. Mikhail, F. Ackermann, Observations and Least Squares, 1976 (from memory); W. Baarda, A testing
///   procedure for use in geodetic networks, 1968 (from memory).
class LeastSquares {
public:
    virtual ~LeastSquares() = default;

    [[nodiscard]] virtual const Eigen::VectorXd& parameters() const = 0;
    [[nodiscard]] virtual const std::vector<AdjustedObservation>& observations() const = 0;
    [[nodiscard]] virtual double sum_of_squares() const = 0;  ///< Of residual / sd.
    [[nodiscard]] virtual int degrees_of_freedom() const = 0;
    [[nodiscard]] virtual int iterations() const = 0;

    /// Covariance of the given parameters, in this order. Quick for parameters that share an observation.
    [[nodiscard]] virtual Eigen::MatrixXd covariance(std::span<const int> parameters) const = 0;
    /// Covariance of two residuals over their sds: the correlation says whether two blunders can be told apart.
    [[nodiscard]] virtual double residual_covariance(std::size_t a, std::size_t b) const = 0;
};

/// Gauss-Newton (damped where a step does not reduce the sum) from `start`.
///
/// Accuracy: the last step is below 1e-10 of a parameter's sd.
/// Errors: invalid_argument for an sd that is not above zero or an index out of range; does_not_fit if the normal
///   matrix is singular (the message names a parameter that nothing determines, by its index) or it does not converge.
Result<std::shared_ptr<const LeastSquares>> least_squares(std::span<const ObservationEquation> equations,
                                                          const Eigen::VectorXd& start);

}  // namespace sillwright::geometry
