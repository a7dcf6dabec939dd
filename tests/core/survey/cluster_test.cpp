#include "core/survey/cluster.h"

#include <gtest/gtest.h>

#include "core/survey/start.h"
#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;

/// Four held marks, and six points taped to each other only.
MadeBook two_bodies() {
    MadeBook made;
    made.truth = {{"A", {0, 0, 0}},         {"B", {1500, 50, 30}},  {"C", {700, 600, 10}},    {"D", {300, 200, 450}},
                  {"P", {200, 100, -300}},  {"Q", {900, 80, -280}}, {"R", {1400, 150, -310}}, {"S", {600, 400, -350}},
                  {"T", {1100, 350, -200}}, {"U", {400, 300, -150}}};
    for (const char* mark : {"A", "B", "C", "D"}) {
        made.hold(mark, "aou");
    }
    made.tie_all({"P", "Q", "R", "S", "T", "U"});
    return made;
}

TEST(Cluster, IsJoinedByTies) {
    MadeBook made = two_bodies();
    made.noise_sd_mm = 0.3;
    const std::vector<std::pair<const char*, const char*>> ties{
        {"A", "P"}, {"A", "R"}, {"B", "Q"}, {"B", "U"}, {"C", "P"}, {"C", "T"}, {"D", "S"}, {"D", "R"}, {"A", "T"}};
    for (const auto& [from, to] : ties) {
        made.tie(from, to);
    }
    const Start start = find_start(made.book);
    EXPECT_TRUE(start.lacking.empty());
    for (const char* name : {"P", "Q", "R", "S", "T", "U"}) {
        EXPECT_LT((start.at_mm.at(name) - made.truth[name]).norm(), 10.0) << name;
    }
}

// Six coordinates held in it, of different points, are a frame: the mirror image would not suit them.
TEST(Cluster, IsJoinedByCoordinatesHeldInIt) {
    MadeBook made = two_bodies();
    made.hold("P", "aou");
    made.hold("Q", "ou");
    made.hold("R", "au");
    made.hold("S", "o");
    made.hold("T", "u");
    const Start start = find_start(made.book);
    for (const char* name : {"P", "Q", "R", "S", "T", "U"}) {
        ASSERT_TRUE(start.at_mm.contains(name)) << name;
        EXPECT_LT((start.at_mm.at(name) - made.truth[name]).norm(), 1.0) << name;
    }
}

TEST(Cluster, StaysLooseWithFewerTiesThanWaysToMove) {
    MadeBook made = two_bodies();
    for (const char* to : {"P", "Q", "R", "S", "T"}) {
        made.tie("A", to);
    }
    const Start start = find_start(made.book);
    EXPECT_EQ(start.at_mm.size(), 4U);
    EXPECT_EQ(start.lacking.size(), 6U);
}

}  // namespace
}  // namespace sillwright::core::survey
