#include "core/mounts/fastener_findings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/mounts/fitting_world.h"

namespace sillwright::core {
namespace {

using testing::Contains;
using testing::HasSubstr;

std::vector<Finding> fasteners_of(const Job& job) {
    return fastener_findings(job, car_of(job));
}

/// A clip for holes of 8.8 to 9.3 that goes in 12 mm, in a hole of 9 with 20 mm behind it.
Job clipped() {
    Job job = fitting_world({750});
    Mount& mount = job.mounts[0];
    mount.size = mm(9);
    mount.free_depth = mm(20);
    mount.fastener.name = "clip";
    mount.fastener.hole_least = mm(8.8);
    mount.fastener.hole_most = mm(9.3);
    mount.fastener.tail = mm(12);
    mount.fastener.holds = geometry::newtons(90);
    return job;
}

TEST(FastenerFindings, HoleFitIsToTheNearerEnd) {
    Job job = clipped();
    const Finding low = named(fasteners_of(job), "mounts/H1/hole fit");
    EXPECT_TRUE(low.at_least);
    EXPECT_NEAR(*low.margin, 0.2, k_rounding);
    EXPECT_EQ(low.state, State::holds);
    job.mounts[0].size = mm(9.2);
    EXPECT_NEAR(*named(fasteners_of(job), "mounts/H1/hole fit").margin, 0.1, k_rounding);
    EXPECT_FALSE(named(fasteners_of(job), "mounts/H1/hole fit").at_least);
}

TEST(FastenerFindings, HoleTooSmallOrTooLargeIsMended) {
    for (const double hole : {8.0, 10.0}) {
        Job job = clipped();
        job.mounts[0].part_hole = mm(8);
        job.mounts[0].size = mm(hole);
        EXPECT_EQ(named(fasteners_of(job), "mounts/H1/hole fit").state, State::falls_short);
        expect_taken(job, "mounts/H1/hole fit", fasteners_of);
    }
    Job job = clipped();
    job.mounts[0].size = mm(25);
    const Finding none = named(fasteners_of(job), "mounts/H1/hole fit");
    ASSERT_TRUE(none.mend);
    EXPECT_FALSE(none.mend->can_be_taken());
}

TEST(FastenerFindings, RoomBehindThePanel) {
    Job job = clipped();
    const Finding holds = named(fasteners_of(job), "mounts/H1/free depth");
    EXPECT_NEAR(*holds.margin, 20 - 12 - 3, k_rounding);
    EXPECT_EQ(holds.state, State::holds);
    job.mounts[0].fastener.tail = mm(18);
    EXPECT_EQ(named(fasteners_of(job), "mounts/H1/free depth").state, State::falls_short);
    expect_taken(job, "mounts/H1/free depth", fasteners_of);
    job.mounts[0].free_depth = mm(2);
    const Finding none = named(fasteners_of(job), "mounts/H1/free depth");
    ASSERT_TRUE(none.mend);
    EXPECT_FALSE(none.mend->can_be_taken());
}

// A screw comes out further where the stack is thinner: 2 sqrt(0.03² + 0.15² + 0.018²), as in stack_test.cpp.
TEST(FastenerFindings, ScrewNeedsTheStacksHalfWidthToo) {
    Job job = clipped();
    job.mounts[0].fastener.kind = FastenerKind::screw;
    EXPECT_NEAR(*named(fasteners_of(job), "mounts/H1/free depth").margin, 5 - 2 * std::sqrt(0.0009 + 0.0225 + 0.000324),
                1e-9);
}

TEST(FastenerFindings, NothingGoesInBehindAStud) {
    Job job = clipped();
    job.mounts[0].kind = MountKind::stud;
    EXPECT_EQ(find(fasteners_of(job), "mounts/H1/free depth"), nullptr);
    EXPECT_NE(find(fasteners_of(job), "mounts/H1/hole fit"), nullptr);
}

TEST(FastenerFindings, WhatIsMissingIsNamed) {
    const Job job = fitting_world({750});
    const auto findings = fasteners_of(job);
    const Finding fit = named(findings, "mounts/H1/hole fit");
    EXPECT_EQ(fit.state, State::not_measured);
    EXPECT_THAT(fit.missing, Contains("the size of H1's hole in the body"));
    const Finding depth = named(findings, "mounts/H1/free depth");
    EXPECT_EQ(depth.state, State::not_measured);
    EXPECT_THAT(depth.missing, Contains("the free depth behind the panel at H1"));
    EXPECT_EQ(named(findings, "mounts/fasteners").state, State::not_measured);
}

TEST(FastenerFindings, CountWithSpares) {
    Job job = clipped();
    for (int i = 0; i < 10; ++i) {
        job.mounts.push_back(job.mounts[0]);
        job.mounts.back().name = "C" + std::to_string(i);
    }
    job.mounts.back().fastener.name = "screw";
    job.mounts.back().fastener.holds = geometry::newtons(400);
    const Finding list = fastener_list_finding(job);
    EXPECT_EQ(list.state, State::holds);
    EXPECT_EQ(list.why, "Buy 10 of clip and 1 spare and 1 of screw and 1 spare.");
    EXPECT_THAT(list.inputs, Contains(Input{"they hold together, as far as is known", "1300 N"}));
    job.mounts.push_back(job.mounts[0]);
    job.mounts.back().name = "C10";
    EXPECT_THAT(fastener_list_finding(job).why, HasSubstr("11 of clip and 2 spares"));
}

}  // namespace
}  // namespace sillwright::core
