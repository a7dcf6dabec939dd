#include "core/mounts/mount_findings.h"

#include <gtest/gtest.h>

#include "core/drawn_loft.h"
#include "tests/core/mounts/flange_world.h"

// Expected numbers: plane trigonometry in the world of flange_world.h, done here by
// hand. Asked for: limits of core/job.h (common practice, no source).

namespace sillwright::core {
namespace {

TEST(MountFindings, SlotNearThePiecesEnd) {
    Job job = flat_world();
    job.mounts[0].at.along = mm(22);
    job.mounts[0].part_slot = mm(26.5);
    expect_numbers(job, "mounts/H1/edge", 22 - 10, 13);
    const Finding edge = finding_of(job, "mounts/H1/edge");
    EXPECT_EQ(edge.state, State::falls_short);
    ASSERT_TRUE(edge.mend);
    EXPECT_TRUE(edge.mend->moves.empty());
    EXPECT_EQ(edge.mend->words, "Make the piece 1.00 mm longer at its front end.");
}

TEST(MountFindings, BeyondThePiecesEnds) {
    Job job = flat_world();
    job.mounts[0].at.along = mm(-12);
    expect_numbers(job, "mounts/H1/reach", -12, 1);
    EXPECT_EQ(finding_of(job, "mounts/H1/reach").mend->words, "Make the piece 13.00 mm longer at its front end.");
    job.mounts[0].at.along = mm(1507);
    expect_numbers(job, "mounts/H1/reach", -7, 1);
    EXPECT_EQ(finding_of(job, "mounts/H1/reach").mend->words, "Make the piece 8.00 mm longer at its rear end.");
}

TEST(MountFindings, NeverMeets) {
    Job job = flat_world();
    job.mounts[0].axis = {0, 1, 0};
    const Finding reach = finding_of(job, "mounts/H1/reach");
    EXPECT_EQ(reach.state, State::falls_short);
    EXPECT_FALSE(reach.found);
    EXPECT_NE(reach.why.find("never meets"), std::string::npos);
    EXPECT_EQ(find(reach_of(job), "mounts/H1/edge"), nullptr);
}

TEST(MountFindings, FlangeThatHasRunOut) {
    Job job = world(world_piece(std::vector<Spot>(4, {150, 10}), std::vector<Spot>(4, {110, 10})), world_mount());
    Drawn& drawn = job.skirt.pieces[0].drawn;
    drawn.sections[3].nodes.pop_back();
    drawn.run_outs.push_back({"flange end", mm(1100), {}});
    job.mounts[0].at.along = mm(1300);
    const auto line = loft_of(job, drawn, false, "skirt");
    ASSERT_TRUE(line) << line.error().message;
    CarModel car;
    car.pieces.push_back({"skirt", line.value(), std::nullopt, {}});
    const auto findings = reach_findings(job, car);
    const Finding* reach = find(findings, "mounts/H1/reach");
    ASSERT_NE(reach, nullptr);
    EXPECT_EQ(reach->state, State::falls_short);
    EXPECT_FALSE(reach->found);
    EXPECT_NE(reach->why.find("has run out"), std::string::npos) << reach->why;
}

}  // namespace
}  // namespace sillwright::core
