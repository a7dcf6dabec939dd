#include "core/section_check.h"

#include <gtest/gtest.h>

#include "core/typed.h"

namespace sillwright::core {

namespace {

Section line(const std::vector<Eigen::Vector2d>& points) {
    Section section;
    for (const auto& p : points) {
        Node node;
        node.name = "n" + std::to_string(section.nodes.size());
        node.out = entry(geometry::millimetres(p.x()));
        node.up = entry(geometry::millimetres(p.y()));
        section.nodes.push_back(node);
    }
    return section;
}

Section names(const std::vector<std::string>& list) {
    Section section;
    for (const std::string& name : list) {
        section.nodes.push_back(Node{.id = name, .name = name, .out = {}, .up = {}, .radius = {}, .unknown = {}});
    }
    return section;
}

// Drawn by hand on squared paper.
TEST(SectionCheck, FindsTheStraightsThatCross) {
    using Pair = std::pair<std::size_t, std::size_t>;
    EXPECT_EQ(first_crossing(line({{0, 0}, {10, 0}, {5, 5}, {5, -5}}), false), (Pair{0, 2}));
    EXPECT_EQ(first_crossing(line({{0, 0}, {10, 10}, {10, 0}, {0, 10}}), true), (Pair{0, 2}));
}

TEST(SectionCheck, TheClosingStraightCountsOnlyIfClosed) {
    // The straight from the last node to the first cuts the middle of the second.
    const Section section = line({{0, 0}, {10, 0}, {4, 10}, {0, 20}, {20, 6}});
    EXPECT_FALSE(first_crossing(section, false));
    EXPECT_TRUE(first_crossing(section, true));
}

TEST(SectionCheck, TouchingIsNoCrossing) {
    EXPECT_FALSE(first_crossing(line({{0, 0}, {10, 0}, {5, 5}, {5, 0}}), false));
    EXPECT_FALSE(first_crossing(line({{0, 0}, {10, 0}, {10, 10}, {0, 10}}), true));
    EXPECT_FALSE(first_crossing(line({{0, 0}, {0, 0}, {10, 0}}), false));
    EXPECT_FALSE(first_crossing(line({{0, 0}}), true));
}

TEST(SectionCheck, NamesKeepOneOrder) {
    EXPECT_FALSE(first_out_of_order(Drawn{{names({"a", "c"}), names({"a", "b"}), names({"b", "c"})}, {}}));
    const auto swapped = first_out_of_order(Drawn{{names({"a", "b", "c"}), names({"a", "c", "b"})}, {}});
    ASSERT_TRUE(swapped);
    EXPECT_EQ(swapped->section, 1U);
    EXPECT_EQ(swapped->name, "b");
    // No two sections disagree, but the three together have no order.
    const auto ring = first_out_of_order(Drawn{{names({"a", "b"}), names({"b", "c"}), names({"c", "a"})}, {}});
    ASSERT_TRUE(ring);
    EXPECT_EQ(ring->section, 2U);
}

}  // namespace

}  // namespace sillwright::core
