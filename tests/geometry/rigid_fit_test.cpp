#include "geometry/rigid_fit.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <limits>
#include <random>

namespace sillwright::geometry {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

std::vector<PointPair> pairs_of(const std::vector<Vector3d>& from, const std::vector<Vector3d>& to) {
    std::vector<PointPair> pairs;
    for (std::size_t i = 0; i < from.size(); ++i) {
        pairs.push_back({from[i], to[i], 1.0});
    }
    return pairs;
}

const std::vector<Vector3d> k_five{{0, 0, 0}, {300, 0, 0}, {0, 300, 0}, {0, 0, 300}, {300, 600, -300}};

// S. Umeyama, IEEE Trans. Pattern Anal. 13 (1991) 376, the example in the plane: `to` is a mirror image of `from`, so
// that only a fit that refuses reflections gives these numbers. Values from memory, computed again independently.
// In space a half turn would do what the mirror does: two more points far above and below the middles, whose distance
// changes by the example's own scale, keep the plane's upper side up and leave all else as it is.
TEST(RigidFit, RefusesTheMirrorImageOfUmeyamasExample) {
    constexpr double scale = 0.7211102550927979;  // sqrt(13) / 5, printed 0.72111
    const Vector3d middle_from(1.0 / 3.0, 2.0 / 3.0, 0.0);
    const Vector3d middle_to(-1.0 / 3.0, 2.0 / 3.0, 0.0);
    const Vector3d high(0.0, 0.0, 10.0);
    const auto fit =
        fit_rigid(pairs_of({{0, 0, 0}, {1, 0, 0}, {0, 2, 0}, middle_from + high, middle_from - high},
                           {{0, 0, 0}, {-1, 0, 0}, {0, 2, 0}, middle_to + scale * high, middle_to - scale * high}),
                  true);
    ASSERT_TRUE(fit.has_value());
    Matrix3d rotation;
    rotation << 0.83205, 0.55470, 0.0, -0.55470, 0.83205, 0.0, 0.0, 0.0, 1.0;
    EXPECT_LT((fit.value().rotation - rotation).cwiseAbs().maxCoeff(), 5e-6);
    EXPECT_NEAR(fit.value().scale, 0.72111, 5e-6);
    EXPECT_LT((fit.value().shift_mm - Vector3d(-0.8, 0.4, 0.0)).norm(), 5e-6);
    // Printed: the mean over the three points; two more that fit exactly make it a mean over five.
    EXPECT_NEAR(fit.value().rms_mm * fit.value().rms_mm * 5.0 / 3.0, 0.53333, 5e-6);
}

// Closed form: 60 degrees about (1, 1, 1), and a shift.
TEST(RigidFit, FindsAnExactMotion) {
    Matrix3d rotation;
    rotation << 2, -1, 2, 2, 2, -1, -1, 2, 2;
    rotation /= 3.0;
    const auto fit = fit_rigid(
        pairs_of(k_five, {{100, -50, 25}, {300, 150, -75}, {0, 150, 225}, {300, -150, 225}, {-100, 650, 125}}));
    ASSERT_TRUE(fit.has_value());
    EXPECT_NEAR((fit.value().rotation - rotation).norm(), 0.0, 1e-12);
    EXPECT_NEAR((fit.value().shift_mm - Vector3d(100, -50, 25)).norm(), 0.0, 1e-10);
    EXPECT_NEAR(fit.value().rms_mm, 0.0, 1e-10);
}

const std::vector<Vector3d> k_noisy{
    {100.4, -50.2, 25.1}, {299.7, 150.1, -74.8}, {0.1, 150.3, 224.8}, {299.8, -150.1, 225.3}, {-100.0, 650.2, 124.6}};

// The same with errors; by B. K. P. Horn's quaternion (J. Opt. Soc. Am. A 4 (1987) 629), an independent method,
// computed outside this project to the digits given.
TEST(RigidFit, AgreesWithHornsQuaternion) {
    const auto fit = fit_rigid(pairs_of(k_five, k_noisy));
    ASSERT_TRUE(fit.has_value());
    Matrix3d rotation;
    rotation << 0.666880954, -0.333623523, 0.666307090,  //
        0.666432153, 0.667066397, -0.333002413,          //
        -0.333373632, 0.666121435, 0.667191318;
    EXPECT_LT((fit.value().rotation - rotation).cwiseAbs().maxCoeff(), 5.1e-10);
    Eigen::Quaterniond q(fit.value().rotation);
    EXPECT_NEAR(q.w(), 0.8661897410, 5.1e-11);
    EXPECT_NEAR(q.x(), 0.2883674906, 5.1e-11);
    EXPECT_NEAR(q.y(), 0.2885282156, 5.1e-11);
    EXPECT_NEAR(q.z(), 0.2886364354, 5.1e-11);
    EXPECT_LT((fit.value().shift_mm - Vector3d(100.026520, -49.983810, 25.102977)).cwiseAbs().maxCoeff(), 5.1e-7);
    EXPECT_NEAR(fit.value().rms_mm, 0.3232105, 5.1e-8);
    const std::vector<Vector3d> residuals{{-.37348, .21619, .00298},
                                          {.39081, -.15416, -.10911},
                                          {-.16054, -.16389, .13941},
                                          {.11865, .21547, -.03963},
                                          {.02456, -.11360, .00635}};
    for (std::size_t i = 0; i < residuals.size(); ++i) {
        EXPECT_LT((fit.value().residuals_mm[i] - residuals[i]).cwiseAbs().maxCoeff(), 5.1e-6) << i;
    }
}

// A point that counts twice is a point given twice.
TEST(RigidFit, TakesAWeightOfTwoForTwoPoints) {
    auto heavy = pairs_of(k_five, k_noisy);
    heavy[1].weight = 2.0;
    auto twice = pairs_of(k_five, k_noisy);
    twice.push_back(twice[1]);
    const auto a = fit_rigid(heavy);
    const auto b = fit_rigid(twice);
    EXPECT_LT((a.value().rotation - b.value().rotation).norm(), 1e-13);
    EXPECT_LT((a.value().shift_mm - b.value().shift_mm).norm(), 1e-10);
    EXPECT_NEAR(a.value().rms_mm, b.value().rms_mm, 1e-13);
}

// Independent errors of one size: residuals lose exactly the six degrees of freedom that the motion takes. And the
// stated covariance is met by many fits.
TEST(RigidFit, StatesTheCovarianceOfItsResiduals) {
    const auto exact = pairs_of(k_five, k_five);
    const Eigen::MatrixXd one = Eigen::MatrixXd::Identity(15, 15);
    const auto stated = residual_covariance_mm2(exact, fit_rigid(exact).value(), one);
    EXPECT_NEAR(stated.trace(), 15.0 - 6.0, 1e-9);

    std::mt19937 random(1);
    std::normal_distribution<double> normal;
    Eigen::MatrixXd met = Eigen::MatrixXd::Zero(15, 15);
    constexpr int k_runs = 2000;
    for (int run = 0; run < k_runs; ++run) {
        auto pairs = exact;
        for (PointPair& pair : pairs) {
            pair.to_mm += Vector3d(normal(random), normal(random), normal(random));
        }
        Eigen::VectorXd residuals(15);
        const auto fit = fit_rigid(pairs).value();
        for (std::size_t i = 0; i < 5; ++i) {
            residuals.segment<3>(3 * static_cast<Eigen::Index>(i)) = fit.residuals_mm[i];
        }
        met += residuals * residuals.transpose() / k_runs;
    }
    // A mean of 2000 products of unit normals: sd sqrt(2 / 2000) = 0.032; four of them.
    EXPECT_LT((met - stated).cwiseAbs().maxCoeff(), 0.13);
}

TEST(RigidFit, RefusesWhatItCannotFit) {
    const auto few = fit_rigid(pairs_of({{0, 0, 0}, {1, 0, 0}}, {{0, 0, 0}, {1, 0, 0}}));
    ASSERT_FALSE(few.has_value());
    EXPECT_EQ(few.error().code, ErrorCode::invalid_argument);

    const std::vector<Vector3d> line{{0, 0, 0}, {100, 100, 0}, {300, 300, 0}, {500, 500, 0}};
    const auto lined = fit_rigid(pairs_of(line, line));
    ASSERT_FALSE(lined.has_value());
    EXPECT_EQ(lined.error().code, ErrorCode::does_not_fit);
    const std::vector<Vector3d> one(3, Vector3d(5, 5, 5));
    EXPECT_FALSE(fit_rigid(pairs_of(one, one)).has_value());

    auto weightless = pairs_of(k_five, k_five);
    weightless[2].weight = 0.0;
    EXPECT_FALSE(fit_rigid(weightless).has_value());
    auto no_number = pairs_of(k_five, k_five);
    no_number[3].to_mm.y() = std::numeric_limits<double>::quiet_NaN();
    EXPECT_FALSE(fit_rigid(no_number).has_value());
}

}  // namespace
}  // namespace sillwright::geometry
