#include "core/mounts/edge_findings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/core/mounts/fitting_world.h"

namespace sillwright::core {
namespace {

using geometry::in_newtons;
using geometry::megapascals;
using geometry::millimetres;
using geometry::newtons;
using testing::Contains;

std::vector<Finding> edges_of(const Job& job) {
    const CarModel car = car_of(job);
    return edge_findings(job, car, mount_plan(job, car));
}

Job round_world(const std::vector<double>& alongs) {
    Job job = fitting_world(alongs);
    for (Mount& mount : job.mounts) {
        mount.fastener.holds = newtons(90);
    }
    return job;
}

// t = 3, e = 12, d = 6.6, 20 MPa: 2 · 3 · (12 - 3.3) · 20 = 1044 N; d = 6, t = 3, 40 MPa: 720 N. Formulas from memory.
TEST(EdgeForces, WorkedByHand) {
    EXPECT_NEAR(in_newtons(tear_out_force(millimetres(3), millimetres(12), millimetres(6.6), megapascals(20))), 1044,
                1e-9);
    EXPECT_NEAR(in_newtons(bearing_force(millimetres(6), millimetres(3), megapascals(40))), 720, 1e-9);
    EXPECT_EQ(in_newtons(tear_out_force(millimetres(3), millimetres(3), millimetres(6.6), megapascals(20))), 0);
}

// Three diameters of 6: 18 between centres. Wider holes: 10 + 2 · 6 = 22. Slots: from end to end.
TEST(EdgeFindings, HolesToOneAnother) {
    Job job = round_world({700, 719});
    const Finding near = named(edges_of(job), "mounts/H1/next hole");
    EXPECT_NEAR(*near.found, 19, k_rounding);
    EXPECT_NEAR(*near.required, 0.5 * (6.5 + 6.5) + 12, k_rounding);
    job.mounts[0].part_hole = job.mounts[1].part_hole = mm(10);
    EXPECT_NEAR(*named(edges_of(job), "mounts/H1/next hole").required, 22, k_rounding);
    job.mounts[0].part_hole = job.mounts[1].part_hole = mm(6);
    EXPECT_NEAR(*named(edges_of(job), "mounts/H1/next hole").required, 18, k_rounding);
    job.mounts[0].part_slot = mm(10);    // Its end's centre is 2 nearer,
    job.mounts[0].part_shift = mm(0.5);  // and 0.5 for the shift.
    EXPECT_NEAR(*named(edges_of(job), "mounts/H1/next hole").found, 16.5, k_rounding);
    EXPECT_EQ(named(edges_of(job), "mounts/H1/next hole").state, State::falls_short);
}

TEST(EdgeFindings, TooNearHolesAreCutAsPlannedOrLeftOut) {
    Job job = round_world({700, 730});
    job.mounts[0].part_slot = mm(30);
    const Job planned = expect_taken(job, "mounts/H1/next hole", edges_of);
    EXPECT_EQ(planned.mounts[1].use, MountUse::flange);
    Job tight = round_world({700, 710, 900});
    const Finding finding = named(edges_of(tight), "mounts/H1/next hole");
    ASSERT_EQ(finding.state, State::falls_short);
    ASSERT_TRUE(finding.mend);
    EXPECT_NE(plan_of(tight).locator, "H1");
}

TEST(EdgeFindings, NeighbourLeftUnused) {
    Job job = round_world({700, 710, 900});
    job.fitting.locator = "H1";
    const Job after = expect_taken(job, "mounts/H1/next hole", edges_of);
    EXPECT_EQ(after.mounts[1].use, MountUse::unused);
}

// Between neighbours at most 260: limits of core/job.h (common practice, no source).
TEST(EdgeFindings, PitchIsMendedByAMountBetween) {
    Job job = round_world({700, 1000});
    const Finding finding = named(edges_of(job), "mounts/H1/pitch");
    EXPECT_NEAR(*finding.margin, 260 - 300, k_rounding);
    EXPECT_EQ(finding.state, State::falls_short);
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());
    job.mounts.push_back(job.mounts[0]);
    job.mounts[2].name = "U1";
    job.mounts[2].at.along = mm(840);
    job.mounts[2].use = MountUse::unused;
    const Job after = expect_taken(job, "mounts/H1/pitch", edges_of);
    EXPECT_EQ(after.mounts[2].use, MountUse::flange);
    job.mounts[2].at.along = mm(730);  // Too near: 270 would stay.
    EXPECT_FALSE(named(edges_of(job), "mounts/H1/pitch").mend->can_be_taken());
}

TEST(EdgeFindings, OverhangAtBothEnds) {
    Job job = round_world({70, 300, 1400});
    const auto findings = edges_of(job);
    EXPECT_NEAR(*named(findings, "mounts/skirt/front overhang").margin, 5, k_rounding);
    EXPECT_EQ(named(findings, "mounts/skirt/front overhang").state, State::holds);
    EXPECT_NEAR(*named(findings, "mounts/skirt/rear overhang").margin, -25, k_rounding);
    ASSERT_TRUE(named(findings, "mounts/skirt/rear overhang").mend);
    job.mounts.push_back(job.mounts[0]);
    job.mounts[3].name = "U1";
    job.mounts[3].at.along = mm(1450);
    job.mounts[3].use = MountUse::unused;
    expect_taken(job, "mounts/skirt/rear overhang", edges_of);
}

// Flange 3, less 10 %: 2.7. Bearing 6 · 2.7 · 40 = 648 N. To the free edge 20: tears out at 2 · 2.7 · (20 - 3.25) · 20.
TEST(EdgeFindings, BearingAndTearOutAgainstWhatTheFastenerHolds) {
    Job job = round_world({750});
    const auto findings = edges_of(job);
    EXPECT_NEAR(*named(findings, "mounts/H1/bearing").found, 648, 1e-6);
    EXPECT_NEAR(*named(findings, "mounts/H1/bearing").required, 90, 1e-9);
    EXPECT_EQ(named(findings, "mounts/H1/bearing").unit, Unit::newton);
    EXPECT_NEAR(*named(findings, "mounts/H1/tear-out").found, 2 * 2.7 * 16.75 * 20, 1e-4);
    job.mounts[0].sd = {mm(0.5), mm(0.5), mm(0)};  // The edge may be nearer by 1.
    EXPECT_NEAR(*named(edges_of(job), "mounts/H1/tear-out").found, 2 * 2.7 * 15.75 * 20, 1e-4);
}

TEST(EdgeFindings, BearingIsMendedByThickerSheet) {
    Job job = round_world({750});
    job.mounts[0].fastener.holds = newtons(700);
    EXPECT_EQ(named(edges_of(job), "mounts/H1/bearing").state, State::falls_short);
    const Job after = expect_taken(job, "mounts/H1/bearing", edges_of);
    EXPECT_NEAR(geometry::in_mm(after.skirt.pieces[0].sheet->value), 3.5, 1e-12);
    job.skirt.pieces[0].flange.thickness = mm(3);  // As measured: no sheet that is chosen changes it.
    EXPECT_FALSE(named(edges_of(job), "mounts/H1/bearing").mend->can_be_taken());
}

TEST(EdgeFindings, TearOutIsMendedByAWiderFlange) {
    Job job = round_world({750});
    job.mounts[0].at.out = mm(118);
    job.mounts[0].fastener.holds = newtons(600);
    EXPECT_EQ(named(edges_of(job), "mounts/H1/tear-out").state, State::falls_short);
    expect_taken(job, "mounts/H1/tear-out", edges_of);
}

TEST(EdgeFindings, WhatIsMissingIsNamed) {
    Job job = round_world({750});
    job.skirt.material.name = "PP";
    job.mounts[0].fastener.holds.reset();
    const Finding bearing = named(edges_of(job), "mounts/H1/bearing");
    EXPECT_EQ(bearing.state, State::not_measured);
    EXPECT_THAT(bearing.missing, Contains("the bearing strength of the skirt's material"));
    EXPECT_THAT(bearing.missing, Contains("what H1's fastener holds"));
    EXPECT_FALSE(bearing.found);
}

TEST(EdgeFindings, LeftHandGivesTheSameNumbers) {
    Job job = round_world({70, 300, 1400});
    const auto right = edges_of(job);
    job.side = Side::left;
    EXPECT_EQ(right, edges_of(job));
}

}  // namespace
}  // namespace sillwright::core
