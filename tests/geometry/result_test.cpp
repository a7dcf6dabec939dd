#include "geometry/result.h"

#include <gtest/gtest.h>

#include <memory>

namespace sillwright::geometry {
namespace {

Result<int> half_of(const int& n) {
    if (n % 2 != 0) {
        return Error{ErrorCode::invalid_argument, std::to_string(n) + " is odd."};
    }
    return n / 2;
}

TEST(Result, HoldsAValueOrAnError) {
    EXPECT_TRUE(half_of(4));
    EXPECT_EQ(half_of(4).value(), 2);
    EXPECT_FALSE(half_of(3).has_value());
    EXPECT_EQ(half_of(3).error().code, ErrorCode::invalid_argument);
    EXPECT_EQ(half_of(3).error().message, "3 is odd.");
}

TEST(Result, AndThenStopsAtTheFirstError) {
    EXPECT_EQ(half_of(8).and_then(half_of).and_then(half_of).value(), 1);
    EXPECT_EQ(half_of(6).and_then(half_of).and_then(half_of).error().message, "3 is odd.");
}

TEST(Result, TransformChangesTheValueAndPassesTheErrorOn) {
    const auto text = [](const int& n) { return std::to_string(n); };
    EXPECT_EQ(half_of(8).transform(text).value(), "4");
    EXPECT_EQ(half_of(7).transform(text).error().message, "7 is odd.");
}

TEST(Result, AValueThatCannotBeCopiedCanBeMovedOut) {
    Result<std::unique_ptr<int>> result{std::make_unique<int>(5)};
    const std::unique_ptr<int> taken = std::move(result).value();
    EXPECT_EQ(*taken, 5);
}

TEST(Result, AStatusIsSuccessOrError) {
    const Status done{std::monostate{}};
    const Status failed{Error{ErrorCode::does_not_fit, "Too long."}};
    EXPECT_TRUE(done);
    EXPECT_FALSE(failed);
}

}  // namespace
}  // namespace sillwright::geometry
