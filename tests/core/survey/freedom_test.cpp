#include "core/survey/freedom.h"

#include <gtest/gtest.h>

#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

Freedom freedom(const MadeBook& made) {
    const Network network = network_of(made.book);
    Placing placing = place_points(network, made.book);
    return freedom_of(network, placing);
}

TEST(Freedom, CountsTheDirectionsThatStayFree) {
    MadeBook made = made_marks();
    made.truth["H"] = {400, 100, -212};
    made.point("H");
    EXPECT_EQ(freedom(made).directions, (std::vector<int>{0, 0, 0, 3}));
    made.read(ReadingKind::up, {"A", "H"});
    EXPECT_EQ(freedom(made).directions[3], 2);
    made.read(ReadingKind::out, {"A", "H"});
    const Freedom one = freedom(made);
    EXPECT_EQ(one.directions[3], 1);
    EXPECT_NEAR(std::abs(one.axes[3](0, 0)), 1.0, 1e-6);  // along
    made.read(ReadingKind::along, {"A", "H"});
    EXPECT_EQ(freedom(made).directions[3], 0);
}

TEST(Freedom, KnowsWhetherTheFrameIsFixed) {
    MadeBook made = made_marks();
    EXPECT_FALSE(freedom(made).frame);
    made.book.points.clear();
    EXPECT_TRUE(freedom(made).frame);
    made.hold("A", "aou");
    made.hold("B", "ou");
    EXPECT_TRUE(freedom(made).frame);  // C may still turn about A and B
    made.hold("C", "u");
    EXPECT_FALSE(freedom(made).frame);
}

TEST(Freedom, KnowsWhetherALeanIsFixed) {
    MadeBook made = made_marks();
    made.book.set_ups.push_back({"lift", false, {}, {}, {}, {}});
    made.read(ReadingKind::height, {"A", "B"}, 0.0, "lift");
    EXPECT_TRUE(freedom(made).lean[0]);  // pitch only
    made.read(ReadingKind::height, {"A", "C"}, 0.0, "lift");
    EXPECT_FALSE(freedom(made).lean[0]);
}

}  // namespace
}  // namespace sillwright::core::survey
