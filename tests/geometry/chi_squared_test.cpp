#include "geometry/chi_squared.h"

#include <gtest/gtest.h>

#include <cmath>

namespace sillwright::geometry {
namespace {

// Published tables of chi-squared (Abramowitz and Stegun 1964, table 26.8; to the digits printed, from memory).
TEST(ChiSquared, PointsAgreeWithTheTables) {
    EXPECT_NEAR(chi_squared_point(0.95, 1), 3.84146, 5e-6);
    EXPECT_NEAR(chi_squared_point(0.95, 2), 5.99146, 5e-6);
    EXPECT_NEAR(chi_squared_point(0.95, 3), 7.81473, 5e-6);
    EXPECT_NEAR(chi_squared_point(0.975, 10), 20.4832, 5e-5);
    EXPECT_NEAR(chi_squared_point(0.025, 10), 3.24697, 5e-6);
    EXPECT_NEAR(chi_squared_point(0.025, 1), 0.000982069, 5e-9);
    EXPECT_NEAR(chi_squared_point(0.975, 100), 129.561, 5e-4);
}

// Closed forms: two degrees of freedom are 1 - e^(-x/2), one is erf(sqrt(x/2)).
TEST(ChiSquared, ChancesAgreeWithClosedForms) {
    for (const double x : {1e-6, 0.01, 0.5, 1.0, 2.5, 4.0, 9.0, 30.0}) {
        EXPECT_NEAR(chi_squared_chance(x, 2), 1.0 - std::exp(-x / 2.0), 1e-13);
        EXPECT_NEAR(chi_squared_chance(x, 1), std::erf(std::sqrt(x / 2.0)), 1e-13);
    }
    EXPECT_EQ(chi_squared_chance(0.0, 3), 0.0);
    EXPECT_EQ(chi_squared_chance(-1.0, 3), 0.0);
}

TEST(ChiSquared, PointIsTheInverseOfChance) {
    for (const int dof : {1, 2, 5, 30, 400, 2500, 20000}) {
        for (const double p : {0.001, 0.025, 0.5, 0.95, 0.975, 0.999}) {
            EXPECT_NEAR(chi_squared_chance(chi_squared_point(p, dof), dof), p, 1e-10) << dof << " " << p;
        }
    }
}

}  // namespace
}  // namespace sillwright::geometry
