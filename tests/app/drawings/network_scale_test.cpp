#include "app/drawings/network_scale.h"

#include <gtest/gtest.h>

#include "app/link/network_of_job.h"
#include "tests/app/link/hand_made_network.h"

namespace sillwright::app {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

// 95 % of a plane normal distribution lie within sqrt(5.9915) = 2.4477 standard deviations (chi-square with two degrees
// of freedom, any table).
constexpr double k_two_dimensions = 2.4477;

TEST(NetworkScale, EllipsesAreTheChiSquareOnes) {
    const Matrix3d covariance = Vector3d(4.0, 1.0, 0.25).asDiagonal();
    const Ellipse plan = ellipse_95(NetworkView::plan, covariance, 10.0);
    EXPECT_NEAR(plan.longer, 10.0 * 2.0 * k_two_dimensions, 1e-3);
    EXPECT_NEAR(plan.shorter, 10.0 * 1.0 * k_two_dimensions, 1e-3);
    const Ellipse side = ellipse_95(NetworkView::side, covariance, 10.0);
    EXPECT_NEAR(side.longer, 10.0 * 2.0 * k_two_dimensions, 1e-3);
    EXPECT_NEAR(side.shorter, 10.0 * 0.5 * k_two_dimensions, 1e-3);
}

// [[2, 1], [1, 2]] has the eigenvalues 3 and 1, the larger along (1, 1): by hand.
TEST(NetworkScale, EllipsesTurnAsTheViewDoes) {
    Matrix3d covariance = Matrix3d::Identity() * 2.0;
    covariance(0, 1) = covariance(1, 0) = 1.0;
    covariance(0, 2) = covariance(2, 0) = 1.0;
    const auto turned = [&](NetworkView view) {
        double degrees = ellipse_95(view, covariance, 1.0).turned_deg;
        degrees = degrees > 90.0 ? degrees - 180.0 : degrees < -90.0 ? degrees + 180.0 : degrees;
        return degrees;
    };
    EXPECT_NEAR(ellipse_95(NetworkView::plan, covariance, 1.0).longer, k_two_dimensions * std::sqrt(3.0), 1e-3);
    EXPECT_NEAR(turned(NetworkView::plan), 45.0, 1e-9) << "out runs down the sheet";
    EXPECT_NEAR(turned(NetworkView::side), -45.0, 1e-9) << "up runs up the sheet";
}

TEST(NetworkScale, BothViewsAreTrueAndStandAboveEachOther) {
    const auto made = hand_made_network();
    const NetworkPicture picture = network_of_job(made.job, made.results);
    for (const QSizeF& size : {QSizeF(820.0, 300.0), QSizeF(300.0, 900.0)}) {
        const NetworkScale scale = network_scale(picture, QRectF({0.0, 30.0}, size));
        for (const NetworkPoint& point : picture.points) {
            const QPointF plan = scale.at(NetworkView::plan, point.at_mm);
            const QPointF side = scale.at(NetworkView::side, point.at_mm);
            EXPECT_DOUBLE_EQ(plan.x(), side.x());
            EXPECT_TRUE(scale.plan.contains(plan)) << point.name;
            EXPECT_TRUE(scale.side.contains(side)) << point.name;
        }
        const QPointF origin = scale.at(NetworkView::plan, Vector3d::Zero());
        const QPointF off = scale.at(NetworkView::plan, {100.0, 100.0, 0.0}) - origin;
        EXPECT_NEAR(off.x(), off.y(), 1e-9) << "out is down, as large as along";
        const QPointF up =
            scale.at(NetworkView::side, {100.0, 0.0, 100.0}) - scale.at(NetworkView::side, Vector3d::Zero());
        EXPECT_NEAR(up.x(), -up.y(), 1e-9);
    }
}

TEST(NetworkScale, ARoundNumberOfTimesMakesEllipsesSeen) {
    auto made = hand_made_network();
    const QRectF room(0.0, 0.0, 820.0, 400.0);
    const NetworkScale scale = network_scale(network_of_job(made.job, made.results), room);
    EXPECT_GT(scale.ellipses, 1.0);
    for (auto& point : made.results.solution.points) {
        point.covariance_mm2.setZero();
    }
    EXPECT_EQ(network_scale(network_of_job(made.job, made.results), room).ellipses, 1.0) << "nothing to be seen";
}

}  // namespace
}  // namespace sillwright::app
