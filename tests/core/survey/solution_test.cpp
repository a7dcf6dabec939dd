#include "core/survey/solution.h"

#include <gtest/gtest.h>

#include "core/survey/solve.h"
#include "tests/core/survey/shop_net.h"

namespace sillwright::core::survey {
namespace {

// Square roots of chi-squared's 95 % points (tables: 3.8415, 5.9915, 7.8147).
TEST(Solution, FactorsOfNinetyFivePercent) {
    EXPECT_NEAR(factor_95(1), 1.9600, 5e-5);
    EXPECT_NEAR(factor_95(2), 2.4477, 5e-5);
    EXPECT_NEAR(factor_95(3), 2.7955, 5e-5);
}

TEST(Solution, CovarianceBetweenPointsHoldsThatOfEach) {
    const tests::ShopNet net = tests::shop_net();
    const Solution s = solve(net.book, net.truth, false);
    const Eigen::MatrixXd both = s.covariance_mm2({"H2", "A", "H1"});
    ASSERT_EQ(both.rows(), 9);
    EXPECT_EQ((both.topLeftCorner<3, 3>()), s.find("H2")->covariance_mm2);
    EXPECT_EQ((both.bottomRightCorner<3, 3>()), s.find("H1")->covariance_mm2);
    EXPECT_TRUE((both.middleRows<3>(3).array() == 0.0).all()) << "A is held";
    EXPECT_GT((both.topRightCorner<3, 3>()).norm(), 0.0);
    EXPECT_EQ(both, both.transpose());
    EXPECT_EQ(s.find("nobody"), nullptr);
    EXPECT_EQ(Solution().covariance_mm2({}).size(), 0);
}

}  // namespace
}  // namespace sillwright::core::survey
