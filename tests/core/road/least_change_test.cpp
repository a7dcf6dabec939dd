#include "core/road/least_change.h"

#include <gtest/gtest.h>

#include <cmath>

namespace sillwright::core {
namespace {

TEST(LeastChange, EndsJustAboveZero) {
    const auto found = least_change([](double by) { return std::optional(std::sqrt(by) - 3.0); }, 0.1, 100.0, 1e-6);
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->by, 9.0, 1e-5);
    EXPECT_GE(found->margin, 0.0);
    EXPECT_LE(found->margin, 1e-6);
}

TEST(LeastChange, NoneBeyondTheMost) {
    EXPECT_FALSE(least_change([](double by) { return std::optional(by - 9.0); }, 1.0, 8.0, 1e-6));
    EXPECT_TRUE(least_change([](double by) { return std::optional(by - 8.0); }, 1.0, 8.0, 1e-6));
}

TEST(LeastChange, NoneWhereNothingCanBeChangedSoFarOrTheMarginJumps) {
    EXPECT_FALSE(
        least_change([](double by) { return by > 5.0 ? std::nullopt : std::optional(by - 9.0); }, 1.0, 100.0, 1e-6));
    EXPECT_FALSE(least_change([](double by) { return std::optional(by < 3.0 ? -1.0 : 1.0); }, 1.0, 100.0, 1e-6));
}

}  // namespace
}  // namespace sillwright::core
