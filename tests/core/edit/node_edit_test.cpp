#include "core/edit/node_edit.h"

#include <gmock/gmock.h>

#include <limits>

#include "loft_compare.h"

namespace sillwright::core {
namespace {

using bench::after;
using bench::channel;
using bench::estate;
using bench::k_piece;
using bench::mm;
using bench::node;
using bench::refusal;
using bench::words;
using Eigen::Vector2d;
using geometry::in_mm;
using geometry::millimetres;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;

TEST(MoveNode, PutsOneNodeAndLosesItsWords) {
    Job job = channel();
    job.skirt.pieces[0].drawn.sections[1].nodes[1].out = {millimetres(100), "100 mm"};
    const auto edit = move_node(job, "2b", {110, 95});
    EXPECT_EQ(words(edit), "move shelf edge at station 2");
    Job moved = after(edit, job);
    EXPECT_EQ(node(moved, "2b").out, mm(110));
    EXPECT_EQ(node(moved, "2b").up, mm(95));
    Job back = after(move_node(moved, "2b", {100, 100}), moved);
    EXPECT_EQ(back, channel()) << "and nothing else was changed";
}

TEST(MoveNode, SaysWhereTheLineWouldCrossItself) {
    // From (0, 100) to (50, -50) the line passes up 0 at out 33.3, on the straight to the flange end.
    const auto edit = move_node(channel(), "2b", {50, -50});
    ASSERT_FALSE(edit);
    EXPECT_THAT(refusal(edit), StartsWith("Skirt at station 2, lower edge: the line from there to flange end would "
                                          "cross the one from top return end to shelf edge. "));
}

TEST(MoveNode, RefusesPlacesThatCannotBe) {
    EXPECT_THAT(refusal(move_node(channel(), "2b", {2e6, 0})),
                HasSubstr("Skirt at station 2, shelf edge, out: this is longer than 1 km"));
    EXPECT_THAT(refusal(move_node(channel(), "2b", {std::numeric_limits<double>::quiet_NaN(), 0})),
                HasSubstr("shelf edge, out: this is not a number"));
    EXPECT_THAT(refusal(move_node(channel(), "x", {0, 0})), HasSubstr("no node \"x\""));
}

// At a right angle a rounding of radius r takes r of either straight: of 100 mm, the other takes 5.
TEST(RoundNode, TakesWhatFitsAndSaysWhatWould) {
    EXPECT_EQ(words(round_node(channel(), "2b", millimetres(95))), "round shelf edge at station 2");
    const auto edit = round_node(channel(), "2b", millimetres(96));
    ASSERT_FALSE(edit);
    EXPECT_EQ(edit.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_THAT(refusal(edit), StartsWith("Skirt at station 2: "));
    EXPECT_THAT(refusal(edit), HasSubstr("95.00 mm or less fits at 'shelf edge'"));
    EXPECT_THAT(refusal(round_node(channel(), "2b", millimetres(-1))),
                HasSubstr("Skirt at station 2, shelf edge, radius: -1 is below zero"));
    EXPECT_THAT(refusal(round_node(channel(), "x", millimetres(1))), HasSubstr("no node"));
}

TEST(RoundNode, ASectionThatDoesNotFitIsMendedStepByStep) {
    Job job = channel();
    job.skirt.pieces[0].drawn.sections[1].nodes[1].radius = mm(200);
    job.skirt.pieces[0].drawn.sections[1].nodes[2].radius = mm(200);
    const Job half = after(round_node(job, "2b", millimetres(5)), job);
    EXPECT_TRUE(round_node(half, "2c", millimetres(5)));
    EXPECT_TRUE(move_node(job, "1b", {101, 100})) << "another section is not held up by it";
}

TEST(TypeNodeNumber, KeepsWhatWasTyped) {
    const auto edit = type_node_number(channel(), "3c", NodeNumber::up, "1 1/2\"");
    EXPECT_EQ(words(edit), "write up of lower edge at station 3");
    const Job job = after(edit, channel());
    EXPECT_EQ(node(job, "3c").up.typed, "1 1/2\"");
    EXPECT_DOUBLE_EQ(in_mm(node(job, "3c").up.value), 38.1);
    EXPECT_EQ(node(after(type_node_number(job, "3c", NodeNumber::out, "98"), job), "3c").out,
              (Entry{millimetres(98), "98"}));
    EXPECT_EQ(node(after(type_node_number(job, "3c", NodeNumber::radius, "4,5 mm"), job), "3c").radius,
              (Entry{millimetres(4.5), "4,5 mm"}));
}

TEST(TypeNodeNumber, SaysWhatIsNoLength) {
    EXPECT_THAT(refusal(type_node_number(channel(), "3c", NodeNumber::radius, "big")),
                StartsWith("\"big\" is not a length for radius. Column 1"));
    EXPECT_THAT(refusal(type_node_number(channel(), "9", NodeNumber::radius, "3")), HasSubstr("no node"));
}

TEST(AddNode, GoesInAtItsPlaceAndOnTheLineOfAllOthers) {
    const auto edit = add_node(channel(), k_piece, 1, 1, {110, 25}, "bead");
    EXPECT_EQ(words(edit), "add bead at station 2");
    const Job job = after(edit, channel());
    for (const std::size_t section : {0U, 1U, 2U}) {
        const auto& nodes = job.skirt.pieces[0].drawn.sections[section].nodes;
        ASSERT_EQ(nodes.size(), 5U);
        EXPECT_EQ(nodes[2].name, "bead");
        EXPECT_EQ(nodes[2].out, mm(section == 1 ? 110 : 100));
        EXPECT_EQ(nodes[2].up, mm(25)) << "three quarters of the way down";
    }
    bench::expect_kept(job);
    const auto place = find_node(job, job.skirt.pieces[0].drawn.sections[1].nodes[2].id);
    ASSERT_TRUE(place);
    EXPECT_EQ(after(delete_nodes(job, node(job, job.skirt.pieces[0].drawn.sections[1].nodes[2].id).id), job),
              channel());
}

TEST(AddNode, LeavesTheRoundingsOfOthersTheirRoom) {
    // At 3 mm from the shelf edge the rounding of 5 mm is in the way; at its own station the person sees that.
    Job job = channel();
    job.skirt.pieces[0].drawn.sections[1].nodes[1].radius = mm(0);
    const Job added = after(add_node(job, k_piece, 1, 1, {100, 97}, ""), job);
    const Node& fellow = added.skirt.pieces[0].drawn.sections[0].nodes[2];
    EXPECT_EQ(fellow.name, "point 1");
    EXPECT_LE(in_mm(fellow.up.value), 95.0);
    EXPECT_GE(in_mm(fellow.up.value), 93.0) << "as near as there is room";
    EXPECT_NEAR(bench::apart_mm(bench::loft(job, k_piece), bench::loft(added, k_piece), 0), 0.0, 1e-9);
    EXPECT_THAT(refusal(add_node(channel(), k_piece, 1, 1, {100.5, 99}, "")), HasSubstr("Skirt at station 2: "))
        << "a corner right beside a rounding leaves that no room";
}

TEST(AddNode, ShapeElsewhereStays) {
    const Job job = estate();
    for (const DrawnId id : all_drawn(job)) {
        const Drawn& body = drawn(job, id);
        const std::size_t section = body.sections.size() / 2;
        const auto before = bench::loft(job, id);
        for (std::size_t at = 0; at + 1 < body.sections[section].nodes.size(); ++at) {
            const auto place = [&](std::size_t k) {
                const Node& n = body.sections[section].nodes[k];
                return Vector2d(in_mm(n.out.value), in_mm(n.up.value));
            };
            const Job added = after(add_node(job, id, section, at, 0.5 * (place(at) + place(at + 1)), ""), job);
            const auto now = bench::loft(added, id);
            const auto& sections = now.sections();
            for (std::size_t k = 0; k < sections.size(); ++k) {
                EXPECT_LE(bench::apart_mm(before, now, in_mm(sections[k].along)), 1e-9) << name_of(job, id) << at;
                if (k > 0) {
                    const double middle = 0.5 * (in_mm(sections[k - 1].along) + in_mm(sections[k].along));
                    EXPECT_LE(bench::apart_mm(before, now, middle), 0.25) << name_of(job, id) << at;
                }
            }
        }
    }
}

TEST(AddNode, WhereAFeatureHasRunOutTheNewNodeLiesOnTheLineToo) {
    Job job = channel();
    Drawn& body = job.skirt.pieces[0].drawn;
    body.sections[2].nodes.erase(body.sections[2].nodes.begin() + 1);  // no shelf edge at station 3
    body.run_outs = {{"shelf edge", mm(200)}};
    const Job added = after(add_node(job, k_piece, 0, 1, {100, 50}, "bead"), job);
    const Section& last = added.skirt.pieces[0].drawn.sections[2];
    ASSERT_EQ(last.nodes.size(), 4U);
    EXPECT_EQ(last.nodes[1].name, "bead");
    // Half-way on the straight from (0, 100) to (100, 0), whose corner needs 5 tan(67.5 deg) = 12 mm only.
    EXPECT_EQ(last.nodes[1].out, mm(50));
    EXPECT_EQ(last.nodes[1].up, mm(50));
    EXPECT_EQ(bench::loft(added, k_piece).names().size(), 5U);
    const Job at_end = after(add_node(job, k_piece, 0, 0, {50, 100}, "early"), job);
    EXPECT_EQ(at_end.skirt.pieces[0].drawn.sections[2].nodes[1].name, "early");
}

TEST(AddNode, RefusesWhatIsNoPlaceForOne) {
    EXPECT_THAT(refusal(add_node(channel(), k_piece, 1, 3, {0, 0}, "")), HasSubstr("The line ends at flange end"));
    EXPECT_THAT(refusal(add_node(channel(), k_piece, 1, 9, {0, 0}, "")), HasSubstr("no such node"));
    EXPECT_THAT(refusal(add_node(channel(), k_piece, 9, 0, {0, 0}, "")), HasSubstr("no such node"));
    EXPECT_THAT(refusal(add_node(channel(), k_piece, 1, 1, {110, 25}, "flange end")), HasSubstr("another name"));
}

TEST(AddNode, GoesRoundAClosedOutline) {
    const Job job = estate();
    const auto& nodes = drawn(job, bench::k_door_body).sections[0].nodes;
    const auto p = [](const Node& n) { return Vector2d(in_mm(n.out.value), in_mm(n.up.value)); };
    const auto edit =
        add_node(job, bench::k_door_body, 0, nodes.size() - 1, 0.5 * (p(nodes.back()) + p(nodes.front())), "back");
    const Job added = after(edit, job);
    for (const Section& section : drawn(added, bench::k_door_body).sections) {
        EXPECT_EQ(section.nodes.back().name, "back");
    }
}

TEST(DeleteNodes, TakesAllFellowsAndTheirRunOut) {
    Job job = channel();
    Drawn& body = job.skirt.pieces[0].drawn;
    body.sections[2].nodes.erase(body.sections[2].nodes.begin() + 1);
    body.run_outs = {{"shelf edge", mm(200)}};
    const auto edit = delete_nodes(job, "1b");
    EXPECT_EQ(words(edit), "delete shelf edge of skirt");
    const Drawn& left = after(edit, job).skirt.pieces[0].drawn;
    EXPECT_TRUE(left.run_outs.empty());
    for (const Section& section : left.sections) {
        EXPECT_EQ(section.nodes.size(), 3U);
    }
    EXPECT_THAT(refusal(delete_nodes(job, "x")), HasSubstr("no node"));
}

TEST(DeleteNodes, TheLastNodesTakeTheirSectionsWithThem) {
    Job job = channel();
    for (const char* id : {"1a", "1b", "1c"}) {
        job = after(delete_nodes(job, id), job);
        bench::expect_kept(job);
    }
    job = after(delete_nodes(job, "1d"), job);
    EXPECT_TRUE(job.skirt.pieces[0].drawn.empty());
}

TEST(RenameNodes, AllOfTheName) {
    Job job = channel();
    Drawn& body = job.skirt.pieces[0].drawn;
    body.sections[2].nodes.erase(body.sections[2].nodes.begin() + 1);
    body.run_outs = {{"shelf edge", mm(200)}};
    const auto edit = rename_nodes(job, "2b", "crown");
    EXPECT_EQ(words(edit), "call shelf edge crown");
    const Job renamed = after(edit, job);
    EXPECT_EQ(node(renamed, "1b").name, "crown");
    EXPECT_EQ(renamed.skirt.pieces[0].drawn.run_outs[0].name, "crown");
    EXPECT_EQ(after(rename_nodes(renamed, "1b", "shelf edge"), renamed), job);
    EXPECT_THAT(refusal(rename_nodes(job, "2b", "flange end")), HasSubstr("\"flange end\" stands twice"));
    EXPECT_THAT(refusal(rename_nodes(job, "2b", "")), HasSubstr("The name is empty"));
    EXPECT_THAT(refusal(rename_nodes(job, "x", "a")), HasSubstr("no node"));
}

std::vector<std::string> names(const Section& section) {
    std::vector<std::string> all;
    for (const Node& one : section.nodes) {
        all.push_back(one.name);
    }
    return all;
}

TEST(AppendNode, AFirstSectionComesAboutClickByClick) {
    Job job = channel();
    job.skirt.pieces[0].drawn = {};
    const auto first = append_node(job, k_piece, "2", {0, 100});
    EXPECT_EQ(words(first), "draw top return end at station 2");
    job = after(first, job);
    bench::expect_kept(job);
    for (const Vector2d& p : {Vector2d(20, 99), Vector2d(100, 98), Vector2d(110, 90)}) {
        job = after(append_node(job, k_piece, "2", p), job);
        bench::expect_kept(job);
    }
    EXPECT_THAT(names(job.skirt.pieces[0].drawn.sections[0]),
                ElementsAre("top return end", "shelf inner", "shelf edge", "bead"));
    job = after(append_node(job, k_piece, "1", {0, 101}), job);
    ASSERT_EQ(job.skirt.pieces[0].drawn.sections.size(), 2U);
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections[0].station, "1") << "sections stand from front to rear";
    EXPECT_THAT(names(job.skirt.pieces[0].drawn.sections[0]), ElementsAre("top return end"));
}

TEST(AppendNode, NamesAreThoseOfTheOtherSections) {
    Job job = channel();
    job = after(rename_nodes(job, "1b", "crown"), job);
    job.skirt.pieces[0].drawn.sections.erase(job.skirt.pieces[0].drawn.sections.begin() + 1);
    for (const Vector2d& p : {Vector2d(0, 100), Vector2d(101, 100), Vector2d(101, 0), Vector2d(0, 0)}) {
        job = after(append_node(job, k_piece, "2", p), job);
        bench::expect_kept(job);
    }
    EXPECT_THAT(names(job.skirt.pieces[0].drawn.sections[1]),
                ElementsAre("top return end", "crown", "lower edge", "flange end"));
    EXPECT_EQ(bench::loft(job, k_piece).sections().size(), 3U);
    job = after(append_node(job, k_piece, "2", {-50, 0}), job);
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections[1].nodes.back().name, "point 1") << "beyond all that have names";
}

TEST(AppendNode, AClosedOutlineMayCrossItsClosingLineOnTheWay) {
    // A hook, drawn from its tip: from the fifth and the sixth point the straight back to the first crosses the line.
    Job job = channel();
    job.doors.emplace_back().name = "door";
    job.doors[0].bodies.emplace_back().name = "edge";
    for (const Vector2d& p : {Vector2d(0, 0), Vector2d(10, 0), Vector2d(10, 20), Vector2d(-10, 20), Vector2d(-10, 30),
                              Vector2d(20, 30), Vector2d(20, -10), Vector2d(0, -10)}) {
        job = after(append_node(job, bench::k_door_body, "1", p), job);
        bench::expect_kept(job);
    }
    EXPECT_THAT(refusal(append_node(job, bench::k_door_body, "1", {5, 10})), HasSubstr("would cross"))
        << "the line itself may not";
}

TEST(AppendNode, RefusesAStationThatIsNotThere) {
    EXPECT_THAT(refusal(append_node(channel(), k_piece, "9", {0, 0})), HasSubstr("no station \"9\""));
}

}  // namespace
}  // namespace sillwright::core
