#include "core/drawn_lacking.h"

#include <gmock/gmock.h>

#include "core/drawn_loft.h"
#include "swing/swing_world.h"

namespace sillwright::core {
namespace {

using swing_world::mm;
using testing::ElementsAre;
using testing::IsEmpty;

/// Four stations, 100 mm apart.
Job stationed() {
    Job job;
    for (int i = 0; i < 4; ++i) {
        job.stations.push_back({std::to_string(i + 1), mm(100.0 * i), {}});
    }
    return job;
}

Drawn shelf() {
    return swing_world::straight("s", {{"a", 0, 0}, {"b", 10, 0}, {"c", 10, -10}, {"d", 0, -10}}, 1, 4);
}

void lose(Drawn& drawn, std::size_t section, const std::string& name) {
    std::erase_if(drawn.sections[section].nodes, [&](const Node& node) { return node.name == name; });
}

std::vector<std::string> lacking(const Drawn& drawn, bool closed = false) {
    const auto words = lacking_for_loft(stationed(), drawn, closed, "skirt");
    // What is promised: where nothing lacks there is a loft, and where something does there is none.
    EXPECT_EQ(words.empty(), loft_of(stationed(), drawn, closed, "skirt").has_value());
    return words;
}

TEST(LackingForLoft, NothingWhereAllIsDrawn) {
    EXPECT_THAT(lacking(shelf()), IsEmpty());
    EXPECT_THAT(lacking(shelf(), true), IsEmpty());
    Drawn two = shelf();
    two.sections.erase(two.sections.begin() + 1, two.sections.begin() + 3);
    EXPECT_THAT(lacking(two), IsEmpty());
}

TEST(LackingForLoft, Sections) {
    EXPECT_THAT(lacking({}), ElementsAre("the sections of skirt"));
    Drawn one = shelf();
    one.sections.resize(1);
    EXPECT_THAT(lacking(one), ElementsAre("a second section of skirt"));
    one.sections[0].nodes.resize(1);
    EXPECT_THAT(lacking(one), ElementsAre("more nodes of skirt at station 1", "a second section of skirt"));
    Drawn thin = shelf();
    thin.sections[2].nodes.resize(2);
    EXPECT_THAT(lacking(thin, true), ElementsAre("more nodes of skirt at station 3"));
    thin.sections[2].nodes.clear();
    EXPECT_THAT(lacking(thin), ElementsAre("more nodes of skirt at station 3"));
}

TEST(LackingForLoft, AnOutlineThatDoesNotCloseYet) {
    Drawn crossed = shelf();
    crossed.sections[1].nodes[3].out = mm(20);  // back to (0, 0) it crosses b to c
    crossed.sections[1].nodes[3].up = mm(-9);
    EXPECT_THAT(lacking(crossed, true),
                ElementsAre("the rest of the outline of skirt at station 2: the line that closes it still crosses it"));
}

TEST(LackingForLoft, ANodeThatIsNotEverywhere) {
    Drawn gone = shelf();
    lose(gone, 1, "b");
    EXPECT_THAT(lacking(gone), ElementsAre("b of skirt at station 2, or where it runs out"));
    Drawn ends = shelf();
    lose(ends, 2, "b");
    lose(ends, 3, "b");
    EXPECT_THAT(lacking(ends), ElementsAre("b of skirt at station 3, or where it runs out"));
    ends.run_outs = {{"b", mm(150)}};
    EXPECT_THAT(lacking(ends), IsEmpty());
    Drawn begins = shelf();
    lose(begins, 0, "c");
    EXPECT_THAT(lacking(begins), ElementsAre("c of skirt at station 1, or where it runs out"));
    begins.run_outs = {{"c", mm(99)}};
    EXPECT_THAT(lacking(begins), IsEmpty());
}

TEST(LackingForLoft, OfManyNodesAFewAreTold) {
    Drawn half = swing_world::straight(
        "s", {{"a", 0, 0}, {"b", 10, 0}, {"c", 20, 0}, {"d", 30, 0}, {"e", 40, 0}, {"f", 50, 0}}, 1, 2);
    half.sections[1].nodes.resize(4);
    EXPECT_THAT(lacking(half), ElementsAre("e and f of skirt at station 2, or where they run out"));
    half.sections[1].nodes.resize(2);
    EXPECT_THAT(lacking(half), ElementsAre("c, d, e and 1 more of skirt at station 2, or where they run out"));
}

TEST(LackingForLoft, NamesThatGoThrough) {
    Drawn apart = shelf();
    apart.sections.resize(2);
    apart.sections[1].nodes = {{"x", "a", mm(0), mm(0), {}, {}}, {"y", "z", mm(0), mm(-10), {}, {}}};
    apart.run_outs = {{"b", mm(50)}, {"c", mm(50)}, {"d", mm(50)}, {"z", mm(50)}};
    EXPECT_THAT(lacking(apart), ElementsAre("two nodes of skirt that stand at station 1 and at station 2"));
}

}  // namespace
}  // namespace sillwright::core
