#include "core/buck/rib_label.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

using testing::ElementsAre;

Job job_of(Side side) {
    Job job;
    job.vehicle = "Estate A, invented";
    job.revision = "C";
    job.side = side;
    job.skirt.pieces.resize(1);
    return job;
}

std::size_t circles(const std::vector<geometry::DrawnEntity>& entities) {
    return static_cast<std::size_t>(std::count_if(entities.begin(), entities.end(), [](const auto& one) {
        return std::holds_alternative<geometry::DrawnCircle>(one.shape);
    }));
}

TEST(RibLabel, SaysWhichFaceShows) {
    // Out to the right and up upward: on the right side of a car the eye looks forward, so the rear face shows.
    EXPECT_THAT(rib_label(job_of(Side::right), {"skirt", "3", {}, {}}).lines,
                ElementsAre("STATION 3", "RIGHT SIDE", "Estate A, invented", "REV C", "THIS FACE TO REAR"));
    EXPECT_THAT(rib_label(job_of(Side::left), {"skirt", "3", {}, {}}).lines,
                ElementsAre("STATION 3", "LEFT SIDE", "Estate A, invented", "REV C", "THIS FACE TO FRONT"));
}

TEST(RibLabel, NamesThePieceWhereThereAreSeveral) {
    Job job = job_of(Side::right);
    job.skirt.pieces.resize(2);
    job.vehicle = "";
    EXPECT_THAT(rib_label(job, {"front piece", "3", {}, {}}).lines,
                ElementsAre("STATION 3", "RIGHT SIDE", "REV C, front piece", "THIS FACE TO REAR"));
}

TEST(RibLabel, CutsALongName) {
    Job job = job_of(Side::right);
    job.vehicle = "A very long name of a vehicle that nobody would give to one";
    const TextBlock block = rib_label(job, {"skirt", "3", {}, {}});
    EXPECT_EQ(block.lines.size(), 6U);
    EXPECT_EQ(block.lines[2], "A very long name of a");
}

TEST(RibLabel, KnowsItsSize) {
    const TextBlock block{{"ABCD", "EFGHIJ"}, 2.0, false};
    EXPECT_DOUBLE_EQ(block.width_mm(3.0), 24.0);        // 4 letters of twice 3 mm
    EXPECT_DOUBLE_EQ(block.height_mm(3.0), 6.0 + 5.1);  // the title, and one line of 1.7 heights
}

TEST(RibLabel, MarksTheFrontAsAnArrowFromBehindOrAhead) {
    const TextBlock block{{"A"}, 1.0, true};
    EXPECT_EQ(circles(drawn_block(block, "ENGRAVE", {0, 0}, 5.0, Side::right)), 1U);  // a cross in it
    EXPECT_EQ(circles(drawn_block(block, "ENGRAVE", {0, 0}, 5.0, Side::left)), 2U);   // a dot in it
}

}  // namespace
}  // namespace sillwright::core
