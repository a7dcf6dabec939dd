#include "core/mounts/reach.h"

#include <gtest/gtest.h>

#include <filesystem>

#include "core/job_file.h"
#include "tests/core/mounts/flange_world.h"

// Expected numbers: plane trigonometry in the world of flange_world.h, done here by
// hand. Asked for: limits of core/job.h (common practice, no source).

namespace sillwright::core {
namespace {

TEST(Reach, WithoutASheetTheInsideOfALineDrawnOutsideIsNotKnown) {
    Piece piece = flat_piece();
    piece.drawn_face = DrawnFace::outside;
    piece.sheet.reset();
    const Finding reach = finding_of(world(piece, world_mount()), "mounts/H1/reach");
    EXPECT_EQ(reach.state, State::not_measured);
    EXPECT_EQ(reach.missing, std::vector<std::string>{"the sheet thickness of skirt"});
}

TEST(Reach, WithoutASkirtNotMeasured) {
    Job job = flat_world();
    job.skirt.pieces.clear();
    const Finding reach = finding_of(job, "mounts/H1/reach");
    EXPECT_EQ(reach.state, State::not_measured);
    EXPECT_FALSE(reach.missing.empty());
}

TEST(Reach, PieceOnADoorHoldsNoMountOfTheBody) {
    Job job = flat_world();
    job.doors.emplace_back();
    job.doors[0].name = "front door";
    job.skirt.pieces[0].carried_by = "front door";
    EXPECT_EQ(finding_of(job, "mounts/H1/reach").state, State::not_measured);
}

TEST(Reach, LeftHandGivesTheSameNumbers) {
    Job right = tapered_world();
    right.mounts[0].axis = Eigen::Vector3d(0.02, 0.03, -1).normalized();
    Job left = right;
    left.side = Side::left;
    const auto of_right = reach_of(right);
    const auto of_left = reach_of(left);
    ASSERT_EQ(of_right.size(), of_left.size());
    for (std::size_t i = 0; i < of_right.size(); ++i) {
        EXPECT_EQ(of_right[i].id, of_left[i].id);
        EXPECT_EQ(of_right[i].state, of_left[i].state);
        EXPECT_EQ(of_right[i].found, of_left[i].found);
        EXPECT_EQ(of_right[i].margin, of_left[i].margin);
    }
}

TEST(Reach, EstateAHoldsEverywhere) {
    const auto path = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright";
    const auto job = read_job(path);
    ASSERT_TRUE(job) << job.error().message;
    std::size_t numbers = 0;
    for (const Finding& finding : reach_of(job.value())) {
        EXPECT_TRUE(finding.state == State::holds || finding.state == State::close)
            << finding.id << ": " << finding.why;
        numbers += finding.margin ? 1 : 0;
    }
    EXPECT_GE(numbers, 6U * 8U);  // Eight mounts or more, six findings each.
}

}  // namespace
}  // namespace sillwright::core
