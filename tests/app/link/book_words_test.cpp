#include "app/link/book_words.h"

#include <gtest/gtest.h>

#include "core/edit/book_edit.h"
#include "tests/app/link/hand_made_network.h"

namespace sillwright::app {
namespace {

using core::survey::ReadingKind;

TEST(BookWords, SayWhichReadingIsWrongAndWhatItShouldBe) {
    const auto made = hand_made_network(6);
    const std::string words = worst_words(made.job, made.results.solution);
    EXPECT_TRUE(words.starts_with("Reading 4. ")) << words;
    EXPECT_NE(words.find("268.4"), std::string::npos) << words;
    EXPECT_TRUE(worst_words({}, {}).empty());
}

TEST(BookWords, NumbersHaveTheUnitOfTheirKind) {
    EXPECT_EQ(number_words(ReadingKind::tie, 1473.94, core::BareUnit::mm), "1473.9 mm");
    EXPECT_EQ(number_words(ReadingKind::tie, 25.4, core::BareUnit::in), "1.00 in");
    EXPECT_EQ(number_words(ReadingKind::height, -3.2, core::BareUnit::mm, Sign::always), "−3.2 mm");
    EXPECT_EQ(number_words(ReadingKind::height, 3.2, core::BareUnit::mm, Sign::always), "+3.2 mm");
    EXPECT_EQ(number_words(ReadingKind::angle, geometry::in_rad(geometry::degrees(62.5)), core::BareUnit::mm),
              "62.50°");
}

TEST(BookWords, GlobalTestIsOneSentence) {
    EXPECT_NE(global_words({0.0, 0, 0.0, 0.0, true}).find("No reading checks another"), std::string::npos);
    EXPECT_NE(global_words({10.0, 12, 4.4, 23.3, true}).find("agree as well as"), std::string::npos);
    EXPECT_NE(global_words({61.0, 12, 4.4, 23.3, false}).find("worse than"), std::string::npos);
    EXPECT_NE(global_words({1.0, 12, 4.4, 23.3, false}).find("better than"), std::string::npos);
}

TEST(BookWords, CountsWhatNothingElseChecks) {
    const auto made = hand_made_network(6);
    EXPECT_NE(unchecked_words(made.job.book, made.results.solution).find("1 reading is"), std::string::npos);
    EXPECT_TRUE(unchecked_words({}, {}).empty());
}

}  // namespace
}  // namespace sillwright::app
