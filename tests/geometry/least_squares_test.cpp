#include "geometry/least_squares.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <random>

namespace sillwright::geometry {
namespace {

using Eigen::VectorXd;

ObservationEquation linear(double observed, double sd, std::vector<int> parameters, std::vector<double> by) {
    return {observed, sd, std::move(parameters), [by](std::span<const double> values, std::span<double> partials) {
                double sum = 0.0;
                for (std::size_t k = 0; k < by.size(); ++k) {
                    partials[k] = by[k];
                    sum += by[k] * values[k];
                }
                return sum;
            }};
}

ObservationEquation distance(double observed, double sd, int x, int y, double from_x, double from_y) {
    return {observed, sd, {x, y}, [=](std::span<const double> values, std::span<double> partials) {
                const double dx = values[0] - from_x;
                const double dy = values[1] - from_y;
                const double d = std::hypot(dx, dy);
                partials[0] = dx / d;
                partials[1] = dy / d;
                return d;
            }};
}

// One number measured three times: weighted mean, 1/sum of weights, redundancy 1 - weight share. By hand: weights 1, 1,
// 4; mean (10 + 12 + 4 * 13) / 6 = 74/6; variance 1/6.
TEST(LeastSquares, IsTheWeightedMeanOfOneNumber) {
    const std::vector<ObservationEquation> equations{linear(10, 1, {0}, {1}), linear(12, 1, {0}, {1}),
                                                     linear(13, 0.5, {0}, {1})};
    const auto fit = least_squares(equations, VectorXd::Zero(1));
    ASSERT_TRUE(fit) << fit.error().message;
    const LeastSquares& f = *fit.value();
    EXPECT_NEAR(f.parameters()[0], 74.0 / 6.0, 1e-12);
    EXPECT_NEAR(f.covariance(std::array{0})(0, 0), 1.0 / 6.0, 1e-14);
    EXPECT_EQ(f.degrees_of_freedom(), 2);
    EXPECT_NEAR(f.observations()[0].redundancy, 5.0 / 6.0, 1e-14);
    EXPECT_NEAR(f.observations()[2].redundancy, 2.0 / 6.0, 1e-14);
    EXPECT_NEAR(f.observations()[0].residual, 74.0 / 6.0 - 10.0, 1e-12);
    // Residuals over sds: I - a aT / 6 with a = (1, 1, 2).
    EXPECT_NEAR(f.residual_covariance(0, 2), -2.0 / 6.0, 1e-14);
    EXPECT_NEAR(f.residual_covariance(1, 1), 5.0 / 6.0, 1e-14);
}

/// A grid of points whose coordinates are tied to their neighbours', two of them observed: large enough to be sparse.
std::vector<ObservationEquation> grid(int n) {
    std::mt19937 random(3);
    std::normal_distribution<double> noise(0.0, 0.1);
    std::vector<ObservationEquation> equations{linear(0, 0.1, {0}, {1}), linear(n - 1.0, 0.1, {n * n - 1}, {1})};
    for (int i = 0; i < n; ++i) {
        for (int j = 0; j + 1 < n; ++j) {
            equations.push_back(linear(1 + noise(random), 0.1, {n * i + j + 1, n * i + j}, {1, -1}));
            equations.push_back(linear(noise(random), 0.1, {n * (j + 1) + i, n * j + i}, {1, -1}));
        }
    }
    return equations;
}

TEST(LeastSquares, RedundanciesSumToTheDegreesOfFreedom) {
    for (const int n : {4, 20}) {
        const auto equations = grid(n);
        const auto fit = least_squares(equations, VectorXd::Zero(n * n));
        ASSERT_TRUE(fit) << fit.error().message;
        double sum = 0.0;
        for (const AdjustedObservation& observation : fit.value()->observations()) {
            sum += observation.redundancy;
        }
        EXPECT_NEAR(sum, fit.value()->degrees_of_freedom(), 1e-8);
        EXPECT_EQ(fit.value()->degrees_of_freedom(), std::ssize(equations) - n * n);
        // Of parameters that share no observation, too.
        const std::vector<int> far{0, n * n - 1, n + 1};
        const Eigen::MatrixXd columns = fit.value()->covariance_columns(far);
        EXPECT_LT((fit.value()->covariance(far) - columns(far, Eigen::all)).cwiseAbs().maxCoeff(), 1e-12);
    }
}

// Three circles about points of one line, which meet in (3, 4) and (3, -4): from far off, where whole steps overshoot.
TEST(LeastSquares, ComesToRestFromFarOff) {
    const std::vector<ObservationEquation> equations{distance(5, 1e-3, 0, 1, 0, 0), distance(5, 1e-3, 0, 1, 6, 0),
                                                     distance(4, 1e-3, 0, 1, 3, 0)};
    for (const VectorXd& start : {VectorXd(Eigen::Vector2d(500, 900)), VectorXd(Eigen::Vector2d(3.1, 0.01))}) {
        const auto fit = least_squares(equations, start);
        ASSERT_TRUE(fit) << fit.error().message;
        EXPECT_NEAR(fit.value()->parameters()[0], 3.0, 1e-9);
        EXPECT_NEAR(std::abs(fit.value()->parameters()[1]), 4.0, 1e-9);
    }
}

// A point almost on the line between two marks, with ties too short to reach it: across the line the equations bend so
// much that whole steps overshoot seven times and never come to rest. Judge: halving where the slope of the sum,
// written out by hand, changes its sign.
TEST(LeastSquares, ComesToRestWhereEquationsBend) {
    const auto tie = [](double along, double observed) {
        return ObservationEquation{observed, 1.0, {0}, [along](std::span<const double> v, std::span<double> partials) {
                                       partials[0] = v[0] / std::hypot(along, v[0]);
                                       return std::hypot(along, v[0]);
                                   }};
    };
    const std::vector<ObservationEquation> equations{tie(400, 398), tie(600, 598), linear(20.0, 30.0, {0}, {1})};
    const auto slope = [](double y) {
        const auto of_tie = [y](double along, double observed) {
            return (std::hypot(along, y) - observed) * y / std::hypot(along, y);
        };
        return of_tie(400, 398) + of_tie(600, 598) + (y - 20.0) / 900.0;
    };
    double low = 0.0;
    double high = 20.0;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (slope(middle) > 0.0 ? high : low) = middle;
    }
    for (const double start : {-30.0, 0.5, 20.0, 150.0}) {
        const auto fit = least_squares(equations, VectorXd::Constant(1, start));
        ASSERT_TRUE(fit) << start << ": " << fit.error().message;
        EXPECT_NEAR(fit.value()->parameters()[0], low, 1e-7) << start;
    }
}

TEST(LeastSquares, NamesWhatNothingDetermines) {
    const std::vector<ObservationEquation> equations{linear(1, 1, {0}, {1}), linear(2, 1, {2, 0}, {1, -1})};
    const auto fit = least_squares(equations, VectorXd::Zero(3));
    ASSERT_FALSE(fit);
    EXPECT_EQ(fit.error().code, ErrorCode::does_not_fit);
    EXPECT_NE(fit.error().message.find("parameter 1"), std::string::npos) << fit.error().message;
    EXPECT_EQ(free_parameter(equations, VectorXd::Zero(3)), 1);
    // Only a difference is known: one of the two.
    const std::vector<ObservationEquation> difference{linear(2, 1, {1, 0}, {1, -1}), linear(3, 1, {1, 0}, {1, -1})};
    const auto loose = least_squares(difference, VectorXd::Zero(2));
    ASSERT_FALSE(loose);
    EXPECT_EQ(loose.error().code, ErrorCode::does_not_fit);
    EXPECT_TRUE(free_parameter(difference, VectorXd::Zero(2)));
}

TEST(LeastSquares, RefusesWhatIsNoObservation) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const auto& wrong :
         {linear(1, 0, {0}, {1}), linear(1, -2, {0}, {1}), linear(1, nan, {0}, {1}), linear(nan, 1, {0}, {1}),
          linear(1, 1, {1}, {1}), linear(1, 1, {-1}, {1}), linear(1, 1, {0}, {nan})}) {
        const std::vector<ObservationEquation> equations{wrong};
        const auto fit = least_squares(equations, VectorXd::Zero(1));
        ASSERT_FALSE(fit);
        EXPECT_EQ(fit.error().code, ErrorCode::invalid_argument);
    }
}

TEST(LeastSquares, NothingUnknownLeavesTheMisfits) {
    const std::vector<ObservationEquation> equations{
        {5.0, 2.0, {}, [](std::span<const double>, std::span<double>) { return 8.0; }}};
    const auto fit = least_squares(equations, VectorXd());
    ASSERT_TRUE(fit) << fit.error().message;
    EXPECT_DOUBLE_EQ(fit.value()->sum_of_squares(), 2.25);
    EXPECT_DOUBLE_EQ(fit.value()->observations()[0].redundancy, 1.0);
    EXPECT_EQ(fit.value()->degrees_of_freedom(), 1);
}

}  // namespace
}  // namespace sillwright::geometry
