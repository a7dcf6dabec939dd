#include "core/survey/network.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

TEST(Network, HasTheReadingsThatCount) {
    MadeBook made = made_marks();
    made.tie("A", "B").dropped = "slack tape";
    made.tie("A", "B").value.reset();
    made.tie("A", "A");
    made.read(ReadingKind::gauge, {"A", "C"}, 0.0, "", 0.01);
    const Network network = network_of(made.book);
    EXPECT_EQ(network.points(), 3);
    // Three ties, three numbers of the gauge, and that it was held level.
    EXPECT_EQ(network.numbers.size(), 3U + 3U + 1U);
    // 9 coordinates, 2 leans (level: held), 1 tilt.
    EXPECT_EQ(network.unknowns(), 12);
    EXPECT_TRUE(network.held[static_cast<std::size_t>(network.lean(0))]);
    EXPECT_FALSE(network.held[static_cast<std::size_t>(network.tilt(0))]);
    EXPECT_EQ(std::count(network.held.begin(), network.held.end(), true), 3 + 2 + 1 + 2);
}

TEST(Network, ObservesWhatIsHeldWithAnSd) {
    MadeBook made = made_marks();
    made.point("A").sd = MadeBook::entry(2.0);
    const Network network = network_of(made.book);
    EXPECT_EQ(std::count(network.held.begin(), network.held.begin() + 9, true), 3);
    const auto own = std::count_if(network.numbers.begin(), network.numbers.end(),
                                   [](const NetworkNumber& n) { return n.own >= 0 && n.sd == 2.0; });
    EXPECT_EQ(own, 3);
}

TEST(Network, MissesByTheErrorOverTheSd) {
    MadeBook made = made_marks();
    made.book.readings.back().value->value = made.book.readings.back().value->value + geometry::millimetres(5.0);
    made.book.readings.back().sd = MadeBook::entry(2.0);
    const Network network = network_of(made.book);
    Eigen::VectorXd values = network.values;
    values.head<9>() << 0, 0, 0, 1500, 0, 0, 700, 600, 0;
    const NetworkRow row = row_of(network, network.numbers.back(), values, false);
    EXPECT_NEAR(row.miss, -2.5, 1e-12);
    // Tie B-C: along and out of C, along of B are free.
    ASSERT_EQ(row.size, 3);
    const double length = std::hypot(800.0, 600.0);
    EXPECT_NEAR(row.by[0], 800.0 / length / 2.0, 1e-12);
    EXPECT_NEAR(row.by[1], -800.0 / length / 2.0, 1e-12);
    EXPECT_NEAR(row.by[2], 600.0 / length / 2.0, 1e-12);
}

TEST(Network, TrustsAHeightLessWhileTheLeanIsAGuess) {
    MadeBook made = made_marks();
    made.book.set_ups.push_back({"lift", false, {}, {}, {}, {}});
    made.read(ReadingKind::height, {"A", "B"}, 0.0, "lift");
    const Network network = network_of(made.book);
    Eigen::VectorXd values = network.values;
    values.head<9>() << 0, 0, 0, 1500, 0, 10, 700, 600, 0;
    const auto& height = network.numbers.back();
    EXPECT_NEAR(row_of(network, height, values, false).miss, 10.0 / 0.1, 1e-9);
    EXPECT_LT(std::abs(row_of(network, height, values, true).miss), 1.0);
}

}  // namespace
}  // namespace sillwright::core::survey
