#include "core/variance_shares.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

// By hand: 3² + 4² = 25, so 16/25 and 9/25.
TEST(VarianceShares, GoByTheSquares) {
    const auto shares = variance_shares({{"axis", 4.0}, {"forming", 3.0}});
    ASSERT_EQ(shares.size(), 2U);
    EXPECT_DOUBLE_EQ(shares[0], 0.64);
    EXPECT_DOUBLE_EQ(shares[1], 0.36);
}

TEST(VarianceShares, OfNothingAndOfZeroAreNoNumbersOutOfTheAir) {
    EXPECT_TRUE(variance_shares({}).empty());
    EXPECT_EQ(variance_shares({{"axis", 0.0}}), std::vector<double>{0.0});
}

}  // namespace
}  // namespace sillwright::core
