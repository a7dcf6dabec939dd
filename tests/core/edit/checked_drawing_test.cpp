#include "core/edit/checked_drawing.h"

#include <gmock/gmock.h>

#include <algorithm>

#include "bench_job.h"

namespace sillwright::core {
namespace {

using bench::channel;
using bench::k_piece;
using bench::mm;
using bench::refusal;
using testing::StartsWith;

TEST(CheckedDrawing, ASectionKeepsItsLine) {
    const Job before = channel();
    Job after = before;
    after.skirt.pieces[0].drawn.sections[2].nodes[1].radius = mm(96);
    const auto edit = checked_drawing(before, after, {k_piece}, "round");
    ASSERT_FALSE(edit);
    EXPECT_EQ(edit.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_THAT(refusal(edit), StartsWith("Skirt at station 3: the straight from 'shelf edge' to 'lower edge'"));
    EXPECT_TRUE(checked_drawing(after, after, {k_piece}, "nothing")) << "it had none before";
    EXPECT_TRUE(checked_drawing(before, after, {}, "round")) << "not asked for";
}

TEST(CheckedDrawing, ANewSectionHasOneToo) {
    const Job after = [] {
        Job job = channel();
        job.skirt.pieces[0].drawn.sections[2].nodes[1].radius = mm(96);
        return job;
    }();
    Job before = after;
    before.skirt.pieces[0].drawn.sections.pop_back();
    EXPECT_FALSE(checked_drawing(before, after, {k_piece}, "copy"));
}

TEST(CheckedDrawing, AClosedOutlineIsLookedAtWithItsClosingLine) {
    Job before = bench::estate();
    Job after = before;
    auto& nodes = after.doors[0].bodies[0].drawn.sections[0].nodes;
    std::rotate(nodes.begin(), nodes.begin() + 1, nodes.end());
    EXPECT_FALSE(checked_drawing(before, after, {bench::k_door_body}, "")) << "names are in another order now";
    after = before;
    // The last node put far beyond the opposite side: the line back to the first crosses it.
    after.doors[0].bodies[0].drawn.sections[0].nodes.back().out = mm(1000);
    const auto edit = checked_drawing(before, after, {bench::k_door_body}, "");
    ASSERT_FALSE(edit);
    EXPECT_THAT(refusal(edit), StartsWith("Front door, door panel at station "));
}

TEST(CheckedDrawing, FaultsOfTheJobAreSaidFirst) {
    Job after = channel();
    after.skirt.pieces[0].drawn.sections[2].nodes[1].radius = mm(-5);
    EXPECT_THAT(refusal(checked_drawing(channel(), after, {k_piece}, "")),
                StartsWith("Skirt at station 3, shelf edge, radius: -5 is below zero."));
}

}  // namespace
}  // namespace sillwright::core
