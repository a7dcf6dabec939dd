#include "core/survey/lacking.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/survey/start.h"
#include "tests/core/survey/made_book.h"

// Whether a point is determined follows from counting degrees of freedom by hand: three ties fix a point unless the
// marks lie on one line, and so on.
namespace sillwright::core::survey {
namespace {

using testing::HasSubstr;

std::string lacks(const MadeBook& made, const std::string& name) {
    for (const LackingPoint& point : find_start(made.book).lacking) {
        if (point.name == name) {
            return point.lacks;
        }
    }
    return "";
}

MadeBook marks_with_hole() {
    MadeBook made = made_marks();
    made.truth["D"] = {900, 0, 0};
    made.truth["H3"] = {400, 100, -212};
    made.truth["H4"] = {600, 150, -220};
    return made;
}

TEST(Lacking, CountsTies) {
    MadeBook made = marks_with_hole();
    made.point("H3");
    EXPECT_EQ(lacks(made, "H3"),
              "H3 has no readings yet: it needs three ties from marks that do not lie on one line, or a height and two "
              "ties.");
    made.tie("A", "H3");
    EXPECT_EQ(
        lacks(made, "H3"),
        "H3 has one tie only: it needs two more from marks that do not lie on one line, or a height and one tie.");
    made.tie("B", "H3");
    EXPECT_THAT(lacks(made, "H3"), HasSubstr("H3 has two ties only: it needs "));
    EXPECT_THAT(lacks(made, "H3"), HasSubstr("one more tie from a mark that does not lie on one line with them."));
    made.tie("C", "H3");
    EXPECT_EQ(lacks(made, "H3"), "");
}

TEST(Lacking, SeesThatMarksLieOnOneLine) {
    MadeBook made = marks_with_hole();
    made.hold("D", "ou");
    made.tie("A", "D");
    for (const char* mark : {"A", "B", "D"}) {
        made.tie(mark, "H3");
    }
    EXPECT_THAT(lacks(made, "H3"), HasSubstr("H3 is tied to A, B and D, which lie on one line: it needs "));
    made.read(ReadingKind::height, {"A", "H3"});
    EXPECT_EQ(lacks(made, "H3"), "");
}

TEST(Lacking, AsksForAHeightWhereOnlyUpIsFree) {
    MadeBook made = marks_with_hole();
    made.read(ReadingKind::along, {"A", "H3"});
    made.read(ReadingKind::out, {"A", "H3"});
    EXPECT_THAT(lacks(made, "H3"), HasSubstr("it needs a height, or a tie."));
}

TEST(Lacking, NamesThePointThatAnotherHangsOn) {
    MadeBook made = marks_with_hole();
    made.tie("A", "H3");
    made.tie("H3", "H4");
    made.tie("A", "H4");
    made.tie("B", "H4");
    EXPECT_THAT(lacks(made, "H4"), HasSubstr("H3, which is not fixed"));
}

TEST(Lacking, DoesNotCountReadingsThatSayTheSameTwice) {
    MadeBook made = marks_with_hole();
    for (int i = 0; i < 3; ++i) {
        made.tie("A", "H3");
    }
    EXPECT_THAT(lacks(made, "H3"), HasSubstr("H3 has one tie only"));
}

}  // namespace
}  // namespace sillwright::core::survey
