#include "core/stage.h"

#include <gtest/gtest.h>

#include <set>

namespace sillwright::core {
namespace {

TEST(Stage, HasSevenInTheOrderOfTheWork) {
    std::vector<std::string> names;
    for (const Stage stage : k_stages) {
        names.push_back(words(stage).name);
        EXPECT_FALSE(words(stage).purpose.empty());
        EXPECT_FALSE(stage_needs(Job{}, stage).empty());
    }
    EXPECT_EQ(names,
              (std::vector<std::string>{"Measure", "Sections", "Mounts", "Swing", "Forming", "Buck", "Handover"}));
}

TEST(Stage, AnEmptyJobHasNothing) {
    for (const Stage stage : k_stages) {
        for (const StageNeed& need : stage_needs(Job{}, stage)) {
            EXPECT_FALSE(need.there) << need.what;
        }
    }
}

TEST(Stage, ANeedIsThereWhenEveryThingHasIt) {
    Job job;
    job.doors.resize(2);
    job.doors[0].opening = geometry::degrees(65);
    const auto opens = [&] { return stage_needs(job, Stage::swing)[1]; };
    EXPECT_EQ(opens().what, "how far each door opens");
    EXPECT_FALSE(opens().there);
    job.doors[1].opening = geometry::degrees(70);
    EXPECT_TRUE(opens().there);
}

TEST(Stage, UnusedMountsNeedNoFastener) {
    Job job;
    job.mounts.resize(2);
    job.mounts[0].fastener.diameter = Entry{geometry::millimetres(6), ""};
    const auto fasteners = [&] { return stage_needs(job, Stage::mounts)[1]; };
    EXPECT_FALSE(fasteners().there);
    job.mounts[1].use = MountUse::unused;
    EXPECT_TRUE(fasteners().there);
}

TEST(Stage, OfTheBuckAllBoardsAreMeasured) {
    Job job;
    job.buck.boards.resize(2);
    job.buck.boards[0].thickness_2 = Entry{geometry::millimetres(11.9), ""};
    const auto boards = [&] { return stage_needs(job, Stage::buck)[1]; };
    EXPECT_FALSE(boards().there);
    EXPECT_EQ(boards().where, "buck, boards");
    job.buck.boards[1].thickness_1 = job.buck.boards[0].thickness_2;
    EXPECT_TRUE(boards().there);
}

TEST(Stage, NothingOfBuckAndHandoverHasNoPlaceToGo) {
    for (const Stage stage : {Stage::buck, Stage::handover}) {
        for (const StageNeed& need : stage_needs(Job{}, stage)) {
            EXPECT_FALSE(need.where.empty()) << need.what;
        }
    }
}

}  // namespace
}  // namespace sillwright::core
