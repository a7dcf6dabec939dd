#include "core/survey/checked.h"

#include <gtest/gtest.h>

namespace sillwright::core::survey {
namespace {

AdjustedNumber number(double redundancy, std::optional<double> w) {
    AdjustedNumber made;
    made.redundancy = redundancy;
    made.w = w;
    return made;
}

ReadingResult used(std::vector<AdjustedNumber> numbers) {
    return {ReadingUse::used, "", std::move(numbers)};
}

// The limit is common practice, no source; it counts as checked, as the header says.
TEST(Checked, GoesByTheLeastCheckedNumberOfAReading) {
    EXPECT_EQ(how_checked(used({number(0.6, 1.0)})), Checked::by_others);
    EXPECT_EQ(how_checked(used({number(0.15, 1.0)})), Checked::by_others);
    EXPECT_EQ(how_checked(used({number(0.149, 1.0)})), Checked::hardly);
    EXPECT_EQ(how_checked(used({number(0.0, std::nullopt)})), Checked::not_at_all);
    EXPECT_EQ(how_checked(used({number(0.6, 1.0), number(0.1, 1.0)})), Checked::hardly) << "a gauge's second number";
    EXPECT_EQ(how_checked(used({number(0.1, 1.0), number(0.0, std::nullopt)})), Checked::not_at_all);
}

TEST(Checked, CountsOnlyReadingsThatCount) {
    Solution solution;
    EXPECT_EQ(count_unchecked(solution), 0U);
    solution.readings = {used({number(0.0, std::nullopt)}),
                         used({number(0.5, 0.1)}),
                         {ReadingUse::dropped, "", {number(0.0, std::nullopt)}},
                         {ReadingUse::waiting, "H3 is not placed yet.", {}}};
    EXPECT_EQ(count_unchecked(solution), 1U);
}

}  // namespace
}  // namespace sillwright::core::survey
