#include "geometry/hinge_fit.h"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <cmath>
#include <limits>
#include <random>

namespace sillwright::geometry {
namespace {

using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::Vector3d;

/// A door's hinge as made: known axis, points and angles.
struct MadeHinge {
    Vector3d on_axis{100, -50, 0};
    Vector3d direction = Vector3d(0.02, -0.03, 1).normalized();
    std::vector<Vector3d> points{{1000, -20, 100}, {600, -10, 650}};
    std::vector<double> angles_deg{0, 15, 30, 45, 60};

    [[nodiscard]] std::vector<Sighting> sightings() const {
        std::vector<Sighting> list;
        for (int p = 0; p < static_cast<int>(points.size()); ++p) {
            for (int k = 0; k < static_cast<int>(angles_deg.size()); ++k) {
                const Eigen::AngleAxisd turn(in_rad(degrees(angles_deg[static_cast<std::size_t>(k)])), direction);
                list.push_back({p, k, on_axis + turn * (points[static_cast<std::size_t>(p)] - on_axis)});
            }
        }
        return list;
    }
};

MatrixXd independent(std::size_t sightings, double sd_mm) {
    const auto rows = 3 * static_cast<Eigen::Index>(sightings);
    return MatrixXd::Identity(rows, rows) * sd_mm * sd_mm;
}

/// Where the fitted axis is at the height of `at`, and how far its direction is off.
Vector3d off_axis(const HingeFit& fit, const Vector3d& at) {
    return fit.place_mm(fit.direction.dot(at - fit.middle_mm)) - at;
}

TEST(HingeFit, FindsTheAxisThatTheSightingsWereMadeWith) {
    const MadeHinge made;
    const auto list = made.sightings();
    const auto fit = fit_hinge(list, independent(list.size(), 1.0));
    ASSERT_TRUE(fit.has_value()) << fit.error().message;
    EXPECT_LT(off_axis(fit.value(), made.on_axis).norm(), 1e-8);
    EXPECT_LT((fit.value().direction - made.direction).norm(), 1e-11);
    for (std::size_t k = 0; k < made.angles_deg.size(); ++k) {
        EXPECT_NEAR(in_deg(fit.value().angles[k]), made.angles_deg[k], 1e-9);
    }
    EXPECT_NEAR(fit.value().sum_of_squares, 0.0, 1e-12);
    // 2 points in 5 positions: 30 numbers; axis 4, angles 4, points 6.
    EXPECT_EQ(fit.value().degrees_of_freedom, 30 - 14);
}

// A motion of everything moves the fit along: nothing in it depends on where up is.
TEST(HingeFit, MovesWithItsSightings) {
    const MadeHinge made;
    auto list = made.sightings();
    std::mt19937 random(7);
    std::normal_distribution<double> normal(0.0, 1.0);
    for (Sighting& s : list) {
        s.at_mm += Vector3d(normal(random), normal(random), normal(random));
    }
    const auto fit = fit_hinge(list, independent(list.size(), 1.0)).value();
    const Eigen::Isometry3d motion =
        Eigen::Translation3d(300, -40, 900) * Eigen::AngleAxisd(1.2, Vector3d(1, 2, -1).normalized());
    for (Sighting& s : list) {
        s.at_mm = motion * s.at_mm;
    }
    const auto moved = fit_hinge(list, independent(list.size(), 1.0)).value();
    EXPECT_NEAR(moved.sum_of_squares, fit.sum_of_squares, 1e-7);
    EXPECT_LT(off_axis(moved, motion * fit.middle_mm).norm(), 1e-6);
    EXPECT_NEAR(std::abs(moved.direction.dot(motion.linear() * fit.direction)), 1.0, 1e-12);
}

struct Swing {
    const char* name;
    std::vector<double> angles_deg;
};
void PrintTo(const Swing& swing, std::ostream* out) {
    *out << swing.name;
}

class HingeFitSwing : public testing::TestWithParam<Swing> {};

// Monte Carlo: the stated sds of the axis are met by many noisy sets, wide swing or narrow.
TEST_P(HingeFitSwing, StatesItsUncertainty) {
    MadeHinge made;
    made.angles_deg = GetParam().angles_deg;
    const auto exact = made.sightings();
    const MatrixXd covariance = independent(exact.size(), 1.0);
    std::mt19937 random(11);
    std::normal_distribution<double> normal;
    constexpr int k_runs = 1000;
    const Vector3d up = made.on_axis + 600.0 * made.direction;
    Matrix3d met_low = Matrix3d::Zero();
    Matrix3d met_up = Matrix3d::Zero();
    Eigen::Matrix<double, 6, 6> stated = Eigen::Matrix<double, 6, 6>::Zero();
    double sum = 0.0;
    for (int run = 0; run < k_runs; ++run) {
        auto list = exact;
        for (Sighting& s : list) {
            s.at_mm += Vector3d(normal(random), normal(random), normal(random));
        }
        const auto fit = fit_hinge(list, covariance);
        ASSERT_TRUE(fit.has_value()) << run;
        const Vector3d low_off = off_axis(fit.value(), made.on_axis);
        const Vector3d up_off = off_axis(fit.value(), up);
        met_low += low_off * low_off.transpose() / k_runs;
        met_up += up_off * up_off.transpose() / k_runs;
        const auto along = [&](const Vector3d& at) { return fit.value().direction.dot(at - fit.value().middle_mm); };
        stated += fit.value().covariance_of_places_mm2(along(made.on_axis), along(up)) / k_runs;
        sum += fit.value().sum_of_squares / k_runs;
    }
    const auto largest = [](const Matrix3d& m) {
        return std::sqrt(Eigen::SelfAdjointEigenSolver<Matrix3d>(m, Eigen::EigenvaluesOnly).eigenvalues()[2]);
    };
    EXPECT_NEAR(largest(met_low) / largest(stated.topLeftCorner<3, 3>()), 1.0, 0.15);
    EXPECT_NEAR(largest(met_up) / largest(stated.bottomRightCorner<3, 3>()), 1.0, 0.15);
    // chi-squared of 30 - 14 = 16 has mean 16 and variance 32; the mean of 1000 an sd of 0.18: four of them.
    EXPECT_NEAR(sum, 16.0, 0.72);
}

INSTANTIATE_TEST_SUITE_P(Swings, HingeFitSwing,
                         testing::Values(Swing{"over60", {0, 15, 30, 45, 60}}, Swing{"over20", {0, 5, 10, 15, 20}}),
                         [](const auto& one) { return one.param.name; });

TEST(HingeFit, NamesTheSightingWithABlunder) {
    const MadeHinge made;
    auto list = made.sightings();
    std::mt19937 random(3);
    std::normal_distribution<double> normal;
    for (Sighting& s : list) {
        s.at_mm += Vector3d(normal(random), normal(random), normal(random));
    }
    list[7].at_mm.y() += 20.0;
    const auto fit = fit_hinge(list, independent(list.size(), 1.0)).value();
    EXPECT_EQ(std::max_element(fit.w.begin(), fit.w.end()) - fit.w.begin(), 7);
    EXPECT_GT(fit.w[7], 3.29);
}

// Errors that all sightings share move the axis with them: no fit can see them, and all are stated.
TEST(HingeFit, TakesTheJointCovariance) {
    const MadeHinge made;
    const auto list = made.sightings();
    MatrixXd covariance = independent(list.size(), 1.0);
    const auto alone = fit_hinge(list, covariance).value();
    for (Eigen::Index i = 0; i < covariance.rows(); ++i) {
        for (Eigen::Index k = i % 3; k < covariance.cols(); k += 3) {
            covariance(i, k) += 9.0;  // a common shift with an sd of 3 mm along, out and up
        }
    }
    const auto shared = fit_hinge(list, covariance).value();
    const Matrix3d more = shared.covariance_of_places_mm2(0, 0).topLeftCorner<3, 3>() -
                          alone.covariance_of_places_mm2(0, 0).topLeftCorner<3, 3>();
    const Matrix3d across = Matrix3d::Identity() - made.direction * made.direction.transpose();
    EXPECT_LT((more - 9.0 * across).norm(), 1e-6);
}

TEST(HingeFit, RefusesWhatItCannotFit) {
    MadeHinge made;
    const auto list = made.sightings();
    const auto code = [](const Result<HingeFit>& fit) { return fit.error().code; };
    const std::vector<Sighting> few(list.begin(), list.begin() + 2);
    const auto too_few = fit_hinge(few, independent(few.size(), 1.0));
    ASSERT_FALSE(too_few.has_value());
    EXPECT_EQ(code(too_few), ErrorCode::invalid_argument);

    made.angles_deg = {0, 0, 0, 0, 0};
    const auto still = fit_hinge(made.sightings(), independent(list.size(), 1.0));
    ASSERT_FALSE(still.has_value());
    EXPECT_EQ(code(still), ErrorCode::does_not_fit);

    EXPECT_FALSE(fit_hinge(list, independent(3, 1.0)).has_value());
    EXPECT_FALSE(fit_hinge(list, independent(list.size(), 0.0)).has_value());
    auto no_number = list;
    no_number[2].at_mm.z() = std::numeric_limits<double>::quiet_NaN();
    EXPECT_FALSE(fit_hinge(no_number, independent(list.size(), 1.0)).has_value());
    auto gap = list;
    gap[0].point = 5;
    EXPECT_FALSE(fit_hinge(gap, independent(list.size(), 1.0)).has_value());
    EXPECT_FALSE(fit_hinge({}, MatrixXd(0, 0)).has_value());
}

}  // namespace
}  // namespace sillwright::geometry
