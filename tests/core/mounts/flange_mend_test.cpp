#include "core/mounts/flange_mend.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "core/job_file.h"
#include "core/sill_frame.h"
#include "tests/core/mounts/flange_world.h"

// Expected numbers: plane trigonometry in the world of flange_world.h, done here by
// hand. Asked for: limits of core/job.h (common practice, no source).

namespace sillwright::core {
namespace {

TEST(FlangeMend, BeyondTheFlangesEnd) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(105);
    expect_numbers(job, "mounts/H1/reach", -5, 1);
    expect_numbers(job, "mounts/H1/edge", -5, 13);
    EXPECT_EQ(finding_of(job, "mounts/H1/reach").why,
              "The axis of H1 misses: it passes 5.00 mm beyond the flange's free edge; for its edge distance the "
              "flange would have to grow by about 18.00 mm.");
    expect_mended(job, "mounts/H1/reach");
    expect_mended(job, "mounts/H1/edge");
}

TEST(FlangeMend, GrowthOfAFlangeMovedAtBothStations) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(105);
    const Finding edge = finding_of(job, "mounts/H1/edge");
    ASSERT_TRUE(edge.mend);
    ASSERT_EQ(edge.mend->moves.size(), 2U);  // Stations 2 and 3, before and behind 750.
    EXPECT_EQ(edge.mend->moves[0].node_id, "2 flange end");
    EXPECT_EQ(edge.mend->moves[1].node_id, "3 flange end");
    // Inward, and no more than the 18 that are lacking: between the stations the line bulges.
    EXPECT_LT(edge.mend->moves[0].by_mm.x(), -14.0);
    EXPECT_GE(edge.mend->moves[0].by_mm.x(), -18.01);
    EXPECT_NEAR(edge.mend->moves[0].by_mm.y(), 0.0, k_rounding);
}

TEST(FlangeMend, MountAtAStationMovesThatStationAlone) {
    Job job = flat_world();
    job.mounts[0].at.along = mm(500);
    job.mounts[0].at.out = mm(120);
    const Finding edge = finding_of(job, "mounts/H1/edge");
    ASSERT_TRUE(edge.mend);
    ASSERT_EQ(edge.mend->moves.size(), 1U);
    EXPECT_EQ(edge.mend->moves[0].node_id, "2 flange end");
    expect_mended(job, "mounts/H1/edge");
}

TEST(FlangeMend, WordsOfAMend) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(147);
    const Finding bend = finding_of(job, "mounts/H1/bend");
    ASSERT_TRUE(bend.mend);
    EXPECT_EQ(bend.mend->words.rfind("Draw the bend back by ", 0), 0U) << bend.mend->words;
    EXPECT_NE(bend.mend->words.find("at stations 2 to 3."), std::string::npos) << bend.mend->words;
}

TEST(FlangeMend, NoMendWhereThePieceCannotGrowSoFar) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(110 - 200);
    const Finding reach = finding_of(job, "mounts/H1/reach");
    EXPECT_EQ(reach.state, State::falls_short);
    EXPECT_FALSE(reach.mend);
}

TEST(FlangeMend, BeyondTheBend) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(147);
    expect_numbers(job, "mounts/H1/reach", -3, 1);
    expect_numbers(job, "mounts/H1/bend", -3, 10);
    EXPECT_NE(finding_of(job, "mounts/H1/reach").why.find("3.00 mm beyond the bend"), std::string::npos);
    expect_mended(job, "mounts/H1/reach");
    expect_mended(job, "mounts/H1/bend");
}

TEST(FlangeMend, GapTooWide) {
    Job job = flat_world();
    job.mounts[0].at.up = mm(15);
    expect_numbers(job, "mounts/H1/seat gap", 3, 0.5);
    EXPECT_NE(finding_of(job, "mounts/H1/seat gap").why.find("does not reach"), std::string::npos);
    expect_mended(job, "mounts/H1/seat gap");
}

TEST(FlangeMend, FlangeInsideItsSeat) {
    Job job = flat_world();
    job.mounts[0].at.up = mm(9);
    expect_numbers(job, "mounts/H1/seat gap", -3, -0.5);
    EXPECT_NE(finding_of(job, "mounts/H1/seat gap").why.find("crushed"), std::string::npos);
    expect_mended(job, "mounts/H1/seat gap");
}

TEST(FlangeMend, AngleTooSteep) {
    const double a = 5.0 * k_deg;
    for (const double sign : {-1.0, 1.0}) {
        const Spot end{150 - 40 * std::cos(a), 10 + sign * 40 * std::sin(a)};
        const Job job =
            world(world_piece(std::vector<Spot>(4, {150, 10, 6}), std::vector<Spot>(4, end)), world_mount());
        expect_numbers(job, "mounts/H1/seat angle", 5.0, 3.0);
        expect_mended(job, "mounts/H1/seat angle");
    }
}

TEST(FlangeMend, EstateAIsMendedWhereItIsMadeToMiss) {
    const auto path = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright";
    const auto read = read_job(path);
    ASSERT_TRUE(read) << read.error().message;
    Job job = read.value();
    Mount& mount = job.mounts[2];
    mount.at.out = mm(in_mm(mount.at).y() - 20);
    expect_mended(job, "mounts/" + mount.name + "/reach");
    expect_mended(job, "mounts/" + mount.name + "/edge");
    mount.at.out = mm(in_mm(mount.at).y() + 34);
    expect_mended(job, "mounts/" + mount.name + "/bend");
    mount.at.up = mm(in_mm(mount.at).z() + 2);
    expect_mended(job, "mounts/" + mount.name + "/seat gap");
}

}  // namespace
}  // namespace sillwright::core
