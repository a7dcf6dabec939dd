#include "core/survey/together.h"

#include <gtest/gtest.h>

#include "core/survey/start.h"
#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

// Two holes that hang on each other: each has too little to placed marks by itself, together they are fixed: six
// coordinates, two ties and a height each to marks and one tie between them, one more between one and a mark.
TEST(Together, PlacesTwoPointsThatHangOnEachOther) {
    MadeBook made;
    made.truth = {
        {"A", {0, 0, 0}}, {"B", {1500, 0, 0}}, {"C", {700, 600, 0}}, {"H", {400, 100, -212}}, {"K", {900, 250, -180}}};
    for (const char* mark : {"A", "B", "C"}) {
        made.hold(mark, "aou");
    }
    made.tie("A", "H");
    made.read(ReadingKind::height, {"A", "H"});
    made.tie("B", "K");
    made.read(ReadingKind::height, {"A", "K"});
    made.tie("H", "K");
    made.read(ReadingKind::angle, {"C", "H", "K"});
    made.about("H", {450, 120, -200});
    made.about("K", {850, 300, -200});
    const Start start = find_start(made.book);
    ASSERT_TRUE(start.at_mm.contains("H"));
    EXPECT_LT((start.at_mm.at("H") - made.truth["H"]).norm(), 1.0);
    EXPECT_LT((start.at_mm.at("K") - made.truth["K"]).norm(), 1.0);
}

TEST(Together, LeavesAloneWhatIsNotFixed) {
    MadeBook made = made_marks();
    made.truth["H"] = {400, 100, -212};
    made.truth["K"] = {900, 250, -180};
    made.tie("A", "H");
    made.tie("H", "K");
    const Start start = find_start(made.book);
    EXPECT_EQ(start.at_mm.size(), 3U);
    EXPECT_EQ(start.lacking.size(), 2U);
}

}  // namespace
}  // namespace sillwright::core::survey
