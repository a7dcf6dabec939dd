#include "core/mounts/fastener_choice.h"

#include <gtest/gtest.h>

#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;

/// Stack 5.92 +- 0.31, a hole of 9, a clip of 6.
Job holed() {
    Job job = flat_world();
    job.mounts[0].size = mm(9);
    return job;
}

const FastenerRow* row_for(const Job& job) {
    return fitting_row(job, job.mounts[0], job.skirt.pieces[0]);
}

TEST(FastenerChoice, SameKindAndShankFirst) {
    const FastenerRow* const row = row_for(holed());
    ASSERT_NE(row, nullptr);
    EXPECT_EQ(row->name, "push-in clip, hole 9, grip 5 to 8");
    Job screwed = holed();
    screwed.mounts[0].fastener.kind = FastenerKind::screw;
    ASSERT_NE(row_for(screwed), nullptr);
    EXPECT_EQ(row_for(screwed)->kind, FastenerKind::screw);
    EXPECT_EQ(row_for(screwed)->diameter, millimetres(6));
}

TEST(FastenerChoice, NothingThatWouldNotGoIn) {
    Job job = holed();
    job.mounts[0].free_depth = mm(2);  // Not even a clip's legs and 3 mm behind them.
    EXPECT_EQ(row_for(job), nullptr);
    job = holed();
    job.mounts[0].part_hole = mm(4);
    EXPECT_EQ(row_for(job), nullptr);
    job = holed();
    job.mounts[0].size.reset();
    EXPECT_EQ(row_for(job), nullptr);
    job = holed();
    job.mounts[0].size = mm(30);
    EXPECT_EQ(row_for(job), nullptr);
    job = holed();
    job.skirt.paint.reset();  // The stack is not known.
    EXPECT_EQ(row_for(job), nullptr);
    EXPECT_FALSE(fastener_mend(job, job.mounts[0], job.skirt.pieces[0], FastenerCheck::grip));
}

TEST(FastenerChoice, MendNamesTheRow) {
    const Job job = holed();
    const auto mend = fastener_mend(job, job.mounts[0], job.skirt.pieces[0], FastenerCheck::hole_fit);
    ASSERT_TRUE(mend);
    EXPECT_EQ(mend->words, "Take the fastener \"push-in clip, hole 9, grip 5 to 8\".");
    ASSERT_EQ(mend->changes.size(), 1U);
    EXPECT_EQ(mend->changes[0].pointer, "/mounts/0/fastener");
}

}  // namespace
}  // namespace sillwright::core
