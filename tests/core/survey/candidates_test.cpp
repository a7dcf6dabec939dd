#include "core/survey/candidates.h"

#include <gtest/gtest.h>

#include <numeric>

#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

Candidates of_hole(const MadeBook& made) {
    const Network network = network_of(made.book);
    const int h = network.points() - 1;
    return candidates(network, h, network.numbers_of[static_cast<std::size_t>(h)], network.values, {});
}

MadeBook hole() {
    MadeBook made;
    made.truth = {{"A", {0, 0, 0}}, {"B", {1500, 0, 0}}, {"C", {700, 600, 0}}, {"H", {400, 100, -212}}};
    for (const char* mark : {"A", "B", "C"}) {
        made.hold(mark, "aou");
    }
    made.point("H");
    return made;
}

// Three spheres meet in two points, mirrored in the plane of their centres.
TEST(Candidates, FindBothPointsWhereThreeSpheresMeet) {
    MadeBook made = hole();
    for (const char* mark : {"A", "B", "C"}) {
        made.tie(mark, "H");
    }
    const Candidates found = of_hole(made);
    EXPECT_TRUE(found.determined);
    ASSERT_EQ(found.places.size(), 2U);
    EXPECT_NEAR(std::abs(found.places[0].at_mm.z()), 212.0, 0.01);
    EXPECT_NEAR(found.places[0].at_mm.z() + found.places[1].at_mm.z(), 0.0, 0.01);
}

TEST(Candidates, FindOneWhereAHeightTells) {
    MadeBook made = hole();
    for (const char* mark : {"A", "B", "C"}) {
        made.tie(mark, "H");
    }
    made.read(ReadingKind::height, {"A", "H"});
    const Candidates found = of_hole(made);
    ASSERT_EQ(found.places.size(), 1U);
    EXPECT_LT((found.places[0].at_mm - made.truth["H"]).norm(), 0.01);
}

TEST(Candidates, KnowWhenTheReadingsDoNotDetermineIt) {
    MadeBook made = hole();
    made.tie("A", "H");
    made.tie("B", "H");
    EXPECT_FALSE(of_hole(made).determined);
    made.tie("A", "H");
    EXPECT_FALSE(of_hole(made).determined);
}

}  // namespace
}  // namespace sillwright::core::survey
