#include "core/road/end_gap.h"

#include "tests/core/mounts/fitting_world.h"

namespace sillwright::core {
namespace {

using geometry::celsius;

/// A flange of 1500 mm on three mounts, its locator 1000 mm in front of its rear end.
Job gap_world(double front, double rear) {
    Job job = fitting_world({200, 500, 1300});
    job.fitting.locator = "H2";
    job.fitting.front_gap = mm(front);
    job.fitting.rear_gap = mm(rear);
    return job;
}

std::vector<Finding> findings(const Job& job) {
    return end_gap_findings(job, car_of(job), plan_of(job));
}

// ABS (90e-6/K) on steel (12e-6/K), 1000 mm: +4.680 mm for 60 K, -3.900 mm for 50 K: computed from the table's
// expansions, (90 - 12)e-6 · 1000 · 60.
TEST(EndGap, AHotPartClosesItAndAColdOneOpensIt) {
    const Job job = gap_world(8, 8);
    const auto gap = end_gap(job, car_of(job), plan_of(job), PartEnd::rear);
    ASSERT_TRUE(gap);
    EXPECT_NEAR(gap->length_mm, 1000.0, 1e-9);
    EXPECT_NEAR(gap->least_mm, 8.0 - 4.680, 1e-9);
    EXPECT_NEAR(gap->greatest_mm, 8.0 + 3.900, 1e-9);
    const auto front = end_gap(job, car_of(job), plan_of(job), PartEnd::front);
    EXPECT_NEAR(front->least_mm, 8.0 - 2.340, 1e-9) << "half as far, half as much";
}

TEST(EndGap, TheTableForTheFitterIsStraight) {
    const Job job = gap_world(8, 8);
    const auto table =
        end_gap_table(job, car_of(job), plan_of(job), PartEnd::rear, {celsius(-30), celsius(20), celsius(80)});
    ASSERT_EQ(table.size(), 3U);
    EXPECT_NEAR(table[0].mm, 11.900, 1e-9);
    EXPECT_NEAR(table[1].mm, 8.0, 1e-9);
    EXPECT_NEAR(table[2].mm, 3.320, 1e-9);
}

TEST(EndGap, MendsMakeBothEndsHold) {
    for (const auto& [gap, id] : {std::pair{3.0, "mounts/rear end gap/hot"}, {7.9, "mounts/rear end gap/cold"}}) {
        Job job = gap_world(6, gap);
        job.fitting.cold = Warmth{celsius(-30), celsius(-30), {}};
        job.road.end_gap_most = mm(11);
        job.limits.close_band = mm(0);
        const Job mended = expect_taken(job, id, findings);
        for (const Finding& finding : findings(mended)) {
            EXPECT_EQ(finding.state, State::holds) << finding.id;
        }
    }
}

TEST(EndGap, WhereNoGapIsRightItSaysSo) {
    Job job = gap_world(6, 6);
    job.road.end_gap_most = mm(9);
    job.road.end_gap_least = mm(4);
    const Finding finding = named(findings(job), "mounts/rear end gap/hot");
    EXPECT_EQ(finding.state, State::falls_short);
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());
}

TEST(EndGap, WhatIsNotMeasuredIsAskedFor) {
    Job job = gap_world(8, 8);
    job.fitting.rear_gap.reset();
    job.fitting.hot.reset();
    EXPECT_EQ(named(findings(job), "mounts/rear end gap/hot").missing.front(), "the gap at the rear end, as drawn");
    EXPECT_EQ(named(findings(job), "mounts/front end gap/hot").state, State::not_measured);
}

TEST(EndGap, OnTheOtherSideOfTheCarTheNumbersAreTheSame) {
    Job left = gap_world(7, 5);
    left.side = Side::left;
    EXPECT_EQ(findings(left), findings(gap_world(7, 5)));
}

}  // namespace
}  // namespace sillwright::core
