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
    Book book;
    Solution solution;
    EXPECT_EQ(count_unchecked(book, solution), 0U);
    book.readings.resize(5);
    for (Reading& reading : book.readings) {
        reading.points = {"A", "H1"};
    }
    book.readings[4].kind = ReadingKind::gap;
    book.readings[4].points = {"D1"};
    solution.readings = {used({number(0.0, std::nullopt)}),
                         used({number(0.5, 0.1)}),
                         {ReadingUse::dropped, "", {number(0.0, std::nullopt)}},
                         {ReadingUse::waiting, "H3 is not placed yet.", {}},
                         used({number(0.0, std::nullopt)})};
    EXPECT_EQ(count_unchecked(book, solution), 1U) << "a gap at one place wants no check";
}

}  // namespace
}  // namespace sillwright::core::survey
