#include "core/survey/network_problems.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/survey/start.h"
#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

TEST(NetworkProblems, ListsNames) {
    EXPECT_EQ(listed({}), "");
    EXPECT_EQ(listed({"A"}), "A");
    EXPECT_EQ(listed({"A", "B"}), "A and B");
    EXPECT_EQ(listed({"A", "B", "C", "D"}), "A, B, C and D");
    EXPECT_EQ(listed({"A", "B", "C", "D", "E"}), "A, B, C and 2 more");
}

TEST(NetworkProblems, SayWhatAnEmptyBookNeeds) {
    EXPECT_THAT(find_start({}).problems, ElementsAre(HasSubstr("The book is empty")));
}

TEST(NetworkProblems, SayWhatOneMarkNeeds) {
    MadeBook made;
    made.point("A");
    EXPECT_THAT(find_start(made.book).problems, ElementsAre(HasSubstr("one mark only, A: add two more")));
}

TEST(NetworkProblems, SayHowToMakeAFrame) {
    MadeBook made = made_marks();
    made.book.points.clear();
    const Start start = find_start(made.book);
    EXPECT_THAT(start.problems, ElementsAre(HasSubstr("all three of A, out and up of B, up of C")));
    EXPECT_TRUE(start.at_mm.empty());
    made.hold("A", "aou");
    EXPECT_THAT(find_start(made.book).problems, ElementsAre(HasSubstr("still let everything turn or shift")));
}

TEST(NetworkProblems, NameTwoParts) {
    MadeBook made = made_marks();
    made.truth["E"] = {5000, 0, 0};
    made.truth["F"] = {5500, 200, 0};
    made.tie("E", "F");
    const Start start = find_start(made.book);
    EXPECT_THAT(start.problems, ElementsAre(HasSubstr("Nothing ties E and F to A, B and C: measure three points")));
    EXPECT_EQ(start.at_mm.size(), 3U);
    EXPECT_EQ(start.lacking.size(), 2U);
}

TEST(NetworkProblems, NameASetUpWhoseLeanIsFree) {
    MadeBook made = made_marks();
    made.book.set_ups.push_back({"lift", false, {}, {}, {}, {}});
    made.read(ReadingKind::height, {"A", "B"}, 0.0, "lift");
    const Start start = find_start(made.book);
    EXPECT_THAT(start.problems, ElementsAre(HasSubstr("how the car leans in the set-up \"lift\"")));
    EXPECT_FALSE(start.lean_rad.contains("lift"));
}

}  // namespace
}  // namespace sillwright::core::survey
