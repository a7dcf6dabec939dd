#include "core/finding_state.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

const std::vector<std::string> k_nothing;
const std::vector<std::string> k_something{"the sheet's thickness"};

// The expected states are those that finding.h and finding_state.h promise in words.

TEST(StateOf, FollowsTheMargin) {
    EXPECT_EQ(state_of(-1e-12, 1.0, k_nothing), State::falls_short);
    EXPECT_EQ(state_of(0.0, 1.0, k_nothing), State::close);
    EXPECT_EQ(state_of(0.999, 1.0, k_nothing), State::close);
    EXPECT_EQ(state_of(1.0, 1.0, k_nothing), State::holds);
}

TEST(StateOf, MarginOfZeroHoldsWithoutABand) {
    EXPECT_EQ(state_of(0.0, 0.0, k_nothing), State::holds);
}

TEST(StateOf, MissingIsNotMeasuredUnlessItFallsShortAnyway) {
    EXPECT_EQ(state_of(5.0, 1.0, k_something), State::not_measured);
    EXPECT_EQ(state_of(std::nullopt, 1.0, k_something), State::not_measured);
    EXPECT_EQ(state_of(-0.1, 1.0, k_something), State::falls_short);
}

TEST(StateOf, NoMarginIsNotMeasured) {
    EXPECT_EQ(state_of(std::nullopt, 1.0, k_nothing), State::not_measured);
}

TEST(CloseBand, IsAQuarterOfANarrowWindow) {
    EXPECT_DOUBLE_EQ(close_band_within(1.0, 0.5), 0.125);
    EXPECT_DOUBLE_EQ(close_band_within(1.0, 40.0), 1.0);
}

}  // namespace
}  // namespace sillwright::core
