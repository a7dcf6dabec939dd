#include "app/link/buck_of_job.h"

#include <gtest/gtest.h>

#include "tests/app/link/buck_by_hand.h"

namespace sillwright::app {
namespace {

using geometry::millimetres;

TEST(BuckOfJob, SaysWhatIsMissing) {
    core::Evaluation empty;
    EXPECT_TRUE(buck_pieces(empty).empty());
    EXPECT_NE(rib_of_job(empty, 0, 0).words.find("under Boards"), std::string::npos);
    EXPECT_EQ(assembly_of_job(empty, 0, {}).words, rib_of_job(empty, 0, 0).words);
    empty.job.buck.boards.resize(1);
    EXPECT_NE(rib_of_job(empty, 0, 0).words.find("No piece"), std::string::npos);
    const auto lacking = lacking_by_hand();
    EXPECT_EQ(rib_of_job(*lacking, 0, 0).words, "To make the buck, decide first:\n– the plug's skin");
    EXPECT_EQ(assembly_of_job(*lacking, 0, {}).words, rib_of_job(*lacking, 0, 0).words);
    EXPECT_TRUE(ribs_of(*lacking, 0).empty());
    EXPECT_FALSE(nearest_rib({}, millimetres(1.0)));
}

TEST(BuckOfJob, RibsAreChosenByLabelAndPlace) {
    const auto job = bucked_by_hand();
    EXPECT_EQ(buck_pieces(*job), std::vector<std::string>{"skirt"});
    const auto ribs = ribs_of(*job, 0);
    ASSERT_EQ(ribs.size(), 4U);
    EXPECT_EQ(ribs[0].words, "R1 · station 1 · 100 mm");
    EXPECT_EQ(ribs[1].words, "R2 · 1.3 · 400 mm");
    EXPECT_EQ(ribs[3].along, millimetres(1000.0));
    EXPECT_EQ(nearest_rib(ribs, millimetres(540.0)), 1U);
    EXPECT_EQ(nearest_rib(ribs, millimetres(560.0)), 2U);
    EXPECT_EQ(nearest_rib(ribs, millimetres(-9000.0)), 0U);
}

TEST(RibOfJob, HasTheFaceOnItsPlaceAndTheOtherOne) {
    const auto job = bucked_by_hand();
    const RibPicture picture = rib_of_job(*job, 0, 0);
    ASSERT_TRUE(picture.words.empty()) << picture.words;
    EXPECT_EQ(picture.label, "R1");
    EXPECT_EQ(picture.number, 1U);
    EXPECT_EQ(picture.count, 4U);
    EXPECT_EQ(picture.outline_mm.size(), 4U);
    ASSERT_EQ(picture.far_mm.size(), 4U);
    EXPECT_DOUBLE_EQ(picture.far_mm[0].x(), 1.0);
    ASSERT_EQ(picture.laps.size(), 2U);
    EXPECT_EQ(picture.laps[0].words, "S1: 12.15 wide, 48 deep");
    EXPECT_DOUBLE_EQ(picture.laps[1].at_mm, 70.0);
    EXPECT_EQ(picture.pins_mm.size(), 2U);
    EXPECT_DOUBLE_EQ(picture.pin_mm, 6.0) << "the usual rod";
    EXPECT_DOUBLE_EQ(picture.level_mm, 40.0);
    EXPECT_TRUE(picture.about.starts_with("Front face on its place · seen from the front")) << picture.about;
    EXPECT_NE(picture.about.find("board mdf 12, 12.00 mm thick"), std::string::npos) << picture.about;
    EXPECT_TRUE(rib_of_job(*job, 0, 3).about.starts_with("Rear face on its place"));
    job->job.side = core::Side::left;
    EXPECT_NE(rib_of_job(*job, 0, 0).about.find("seen from the rear"), std::string::npos);
    EXPECT_EQ(rib_of_job(*job, 0, 99).label, "R4") << "the last one, if there are fewer by now";
}

// Drawn straight out and with the base at 10: side is up, height is out less 10, both times 0.9975. The shelf is at up
// 120 beyond the outline's 100, the lower edge at up 40.
TEST(RibOfJob, SaysHowEachEdgeLeansWhereItsStripIs) {
    const auto job = bucked_by_hand();
    const RibPicture picture = rib_of_job(*job, 0, 0);
    ASSERT_EQ(picture.edges.size(), 4U);
    EXPECT_EQ(picture.edges[0].words, "bevel 4.2°");
    EXPECT_NEAR(picture.edges[0].at_mm.x(), 100.0, 1e-9);
    EXPECT_NEAR(picture.edges[0].at_mm.y(), 0.9975 * 120.0 - 10.0, 1e-9) << "the middle of out 90 and 150";
    EXPECT_EQ(picture.edges[1].words, "bevel 3.0 to 5.5°");
    EXPECT_NEAR(picture.edges[1].at_mm.x(), 0.9975 * 80.0, 1e-9) << "the middle of up 120 and 40";
    EXPECT_EQ(picture.edges[2].words, "gap 0.8 mm");
    EXPECT_TRUE(picture.edges[2].gap);
    EXPECT_EQ(picture.edges[3].words, "square");
    EXPECT_FALSE(picture.edges[3].gap);
}

TEST(AssemblyOfJob, PutsEveryBoardInItsPlace) {
    const auto job = bucked_by_hand();
    const AssemblyPicture picture = assembly_of_job(*job, 0, 2);
    ASSERT_TRUE(picture.words.empty());
    EXPECT_EQ(picture.piece, "Buck of skirt");
    EXPECT_EQ(picture.about, "4 ribs · 2 spines · base board · size of the plug: +0.62 % along, −0.25 % across");
    EXPECT_EQ(picture.state, core::State::close) << "of its findings";
    ASSERT_EQ(picture.ribs.size(), 4U);
    EXPECT_DOUBLE_EQ(picture.ribs[1].front_mm, 302.0);
    EXPECT_DOUBLE_EQ(picture.ribs[1].rear_mm, 314.0);
    EXPECT_DOUBLE_EQ(picture.ribs[2].front_mm, 592.0) << "its rear face is on its place";
    EXPECT_DOUBLE_EQ(picture.ribs[0].high_mm, 100.0);
    EXPECT_DOUBLE_EQ(picture.ribs[0].top_mm, 140.0);
    EXPECT_TRUE(picture.ribs[2].chosen);
    EXPECT_FALSE(picture.ribs[0].chosen);
    EXPECT_EQ(picture.spines.at(1).label, "S2");
    ASSERT_TRUE(picture.base);
    EXPECT_DOUBLE_EQ(picture.base->rear_mm, 940.0);
    ASSERT_EQ(picture.checks.size(), 3U);
    EXPECT_EQ(picture.checks[0].words, "R1, rod hole 1 to R4, rod hole 2: 912.3");
    EXPECT_FALSE(picture.checks[0].from_mm) << "from above a rod is where its rib is";
    EXPECT_EQ(picture.checks[1].from_mm.value(), Eigen::Vector2d(-10.0, 30.0));
    EXPECT_EQ(picture.checks[1].to_mm.value(), Eigen::Vector2d(930.0, 70.0));
    EXPECT_EQ(picture.checks[2].from_mm.value(), Eigen::Vector2d(0.0, 100.0));
    EXPECT_EQ(picture.checks[2].to_mm.value(), Eigen::Vector2d(906.0, 0.0));
    ASSERT_EQ(picture.notes.size(), 2U);
    EXPECT_NE(picture.notes[0].find("R1 in the place of R2 stands 4 mm off the base"), std::string::npos);
}

}  // namespace
}  // namespace sillwright::app
