#include "core/survey/network_fit.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

// P. J. Huber's function: square up to k, then straight with the same slope.
TEST(NetworkFit, GrowsInProportionFarOut) {
    EXPECT_DOUBLE_EQ(robust_square(2.0), 4.0);
    EXPECT_DOUBLE_EQ(robust_square(-3.0), 9.0);
    EXPECT_DOUBLE_EQ(robust_square(10.0), 9.0 + 2.0 * 3.0 * 7.0);
}

MadeBook hole_on_three_marks() {
    MadeBook made;
    made.truth = {{"A", {0, 0, 0}}, {"B", {1500, 0, 0}}, {"C", {700, 600, 0}}, {"H", {400, 100, -212}}};
    for (const char* mark : {"A", "B", "C"}) {
        made.hold(mark, "aou");
        made.tie(mark, "H");
    }
    return made;
}

TEST(NetworkFit, FindsAPlaceByFewOrByAll) {
    const Network network = network_of(hole_on_three_marks().book);
    const std::vector<int> unknowns{9, 10, 11};
    const std::vector<int> numbers{0, 1, 2};
    Eigen::VectorXd few = network.values;
    few.segment<3>(9) << 300, 300, -400;
    Eigen::VectorXd all = few;
    EXPECT_LT(fit_few(network, unknowns, numbers, false, 50, few).sum, 1e-6);
    EXPECT_LT((few.segment<3>(9) - Eigen::Vector3d(400, 100, -212)).norm(), 1e-3);
    EXPECT_LT(fit_all(network, 50, all), 1.0);
    EXPECT_LT((all - few).norm(), 0.5);
}

TEST(NetworkFit, GivesOneNormalMatrixHoweverItIsBuilt) {
    const Network network = network_of(hole_on_three_marks().book);
    Eigen::VectorXd values = network.values;
    values.segment<3>(9) << 400, 100, -212;
    const std::vector<int> unknowns{9, 10, 11};
    const std::vector<int> numbers{0, 1, 2};
    Eigen::VectorXd same = values;
    const auto few = fit_few(network, unknowns, numbers, false, 0, same);
    const WholeNormal whole = whole_normal(network, values, true);
    EXPECT_EQ(whole.unknowns, unknowns);
    const Eigen::MatrixXd full = Eigen::MatrixXd(whole.matrix).selfadjointView<Eigen::Lower>();
    EXPECT_LT((full - few.normal).norm(), 1e-9 * full.norm());
}

// One of five ties is a metre wrong: the place stays within a hand's breadth, where least squares would move it by
// about a fifth of the blunder.
TEST(NetworkFit, IsNotCarriedAwayByABlunder) {
    MadeBook made = hole_on_three_marks();
    made.truth["D"] = {200, -300, 300};
    made.truth["E"] = {1200, 400, -500};
    made.hold("D", "aou");
    made.hold("E", "aou");
    made.tie("D", "H");
    made.tie("E", "H", 1000.0);
    const Network network = network_of(made.book);
    Eigen::VectorXd values = network.values;
    const int h = static_cast<int>(std::find(network.names.begin(), network.names.end(), "H") - network.names.begin());
    values.segment<3>(3 * h) << 300, 300, -400;
    fit_all(network, 100, values);
    EXPECT_LT((values.segment<3>(3 * h) - Eigen::Vector3d(400, 100, -212)).norm(), 100.0);
}

}  // namespace
}  // namespace sillwright::core::survey
