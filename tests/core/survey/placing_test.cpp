#include "core/survey/placing.h"

#include <gtest/gtest.h>

#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;

TEST(Placing, PrefersTheRearThenTheOutsideThenBelow) {
    EXPECT_TRUE(preferred({}, {100, 0, 0}, {-100, 50, 0}));
    EXPECT_TRUE(preferred({}, {0, 50, 0}, {0, -50, -200}));
    EXPECT_TRUE(preferred({}, {0, 0, -200}, {0, 0, 200}));
    EXPECT_FALSE(preferred({}, {0, 0, 200}, {0, 0, -200}));
}

TEST(Placing, PrefersWhatIsNearerToTheRoughPlace) {
    EXPECT_TRUE(preferred({{2, 150.0}}, {0, 0, 200}, {0, 0, -200}));
    EXPECT_DOUBLE_EQ(from_rough_mm({{0, 3.0}, {2, 4.0}}, Vector3d(0, 99, 0)), 5.0);
    MadeBook made = made_marks();
    made.point("C").about_along.reset();
    EXPECT_EQ(rough_place(made.book, "C"), (std::vector<std::pair<int, double>>{{1, 500.0}, {2, 0.0}}));
    EXPECT_TRUE(rough_place(made.book, "nowhere").empty());
}

TEST(Placing, KeepsTheOtherPlaceOfAnAmbiguousPoint) {
    MadeBook made = made_marks();
    made.truth["H"] = {400, 100, -212};
    for (const char* mark : {"A", "B", "C"}) {
        made.tie(mark, "H");
    }
    const Network network = network_of(made.book);
    const Placing placing = place_points(network, made.book);
    EXPECT_EQ(std::count(placing.placed.begin(), placing.placed.end(), true), 4);
    EXPECT_TRUE(placing.one_by_one);
    const auto branch = std::find_if(placing.branches.begin(), placing.branches.end(), [&](const Branch& b) {
        return network.names[static_cast<std::size_t>(b.point)] == "H";
    });
    ASSERT_NE(branch, placing.branches.end());
    EXPECT_EQ(branch->from.size(), 3U);
    EXPECT_LT((branch->taken_mm - Vector3d(400, 100, -212)).norm(), 0.1);
    EXPECT_LT((branch->other_mm - Vector3d(400, 100, 212)).norm(), 0.1);
}

TEST(Placing, KnowsWhoIsNextToWhom) {
    const MadeBook made = made_marks();
    const Network network = network_of(made.book);
    EXPECT_EQ(neighbours_of(network, 0), (std::vector<int>{1, 2}));
    const std::vector<bool> placed{true, false, true};
    EXPECT_EQ(neighbours_of(network, 0, &placed), (std::vector<int>{2}));
    EXPECT_EQ(numbers_to_placed(network, placed, 0).size(), 1U);
}

}  // namespace
}  // namespace sillwright::core::survey
