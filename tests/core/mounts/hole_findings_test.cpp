#include "core/mounts/hole_findings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/mounts/fitting_world.h"

namespace sillwright::core {
namespace {

using testing::Contains;
using testing::HasSubstr;

std::vector<Finding> holes_of(const Job& job) {
    const CarModel car = car_of(job);
    return hole_findings(job, car, mount_plan(job, car));
}

/// Holes as planned, cut in whole half millimetres.
Job drawn_world() {
    Job job = fitting_world({100, 400, 700, 1050, 1300});
    job.fitting.cutter_step = mm(0.5);
    job.fitting.part_half = mm(0.5);
    for (const HolePlan& hole : plan_of(job).holes) {
        for (Mount& mount : job.mounts) {
            if (mount.name == hole.mount) {
                mount.part_hole = mm(hole.cut.width_mm);
                mount.part_slot.reset();
                if (hole.cut.length_mm > hole.cut.width_mm) {
                    mount.part_slot = mm(hole.cut.length_mm);
                }
                mount.part_shift = mm(hole.shift_mm);
            }
        }
    }
    return job;
}

TEST(HoleFindings, HolesAsPlannedHold) {
    const auto findings = holes_of(drawn_world());
    EXPECT_EQ(findings.size(), 2U * 5U + 1U);
    for (const Finding& finding : findings) {
        EXPECT_EQ(finding.state, State::holds) << finding.id << ": " << finding.why;
        EXPECT_FALSE(finding.mend) << finding.id;
        EXPECT_EQ(finding.stage, Stage::mounts);
    }
}

// By hand: H1 600 mm in front of the locator H3: e 78e-6 · 600 · (60, -50) = 2.808, -2.34; locator cut 6.5: 0.25.
// Needed 6 + 5.148 + 2 (0.5 + 0.25) = 12.648, its middle 0.234 further to the rear.
TEST(HoleFindings, RoomOnTheTighterSide) {
    Job job = drawn_world();
    job.mounts[0].part_slot = mm(13.0);
    job.mounts[0].part_shift = mm(0.0);
    const Finding finding = named(holes_of(job), "mounts/H1/slot");
    EXPECT_NEAR(*finding.found, 6.5 - 0.234, k_rounding);
    EXPECT_NEAR(*finding.required, 6.324, k_rounding);
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_THAT(finding.formula, HasSubstr("e_max - e_min"));
    const Job after = expect_taken(job, "mounts/H1/slot", holes_of);
    EXPECT_NEAR(geometry::in_mm(after.mounts[0].part_shift->value), 0.234, k_rounding);
    EXPECT_NEAR(geometry::in_mm(after.mounts[0].part_slot->value), 13.0, k_rounding);
    job.mounts[0].part_shift = mm(-0.234);  // Signed from the wrong end.
    EXPECT_NEAR(*named(holes_of(job), "mounts/H1/slot").margin, 6.5 - 0.468 - 6.324, k_rounding);
}

TEST(HoleFindings, ShortfallOfTheWorstCaseAloneIsSaid) {
    Job job = drawn_world();
    job.mounts[0].part_slot = mm(12.5);
    const Finding finding = named(holes_of(job), "mounts/H1/slot");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_THAT(finding.why, HasSubstr("in the worst case"));
    job.mounts[0].part_slot = mm(11);
    EXPECT_THAT(named(holes_of(job), "mounts/H1/slot").why, testing::Not(HasSubstr("in the worst case")));
}

TEST(HoleFindings, TooNarrow) {
    Job job = drawn_world();
    job.mounts[0].part_hole = mm(6.5);
    const Finding finding = named(holes_of(job), "mounts/H1/slot width");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(*finding.margin, 6.5 - 7.5, k_rounding);
    expect_taken(job, "mounts/H1/slot width", holes_of);
}

TEST(HoleFindings, NoHoleYetIsNotMeasuredAndHasThePlanAsItsMend) {
    Job job = drawn_world();
    job.mounts[0].part_hole.reset();
    job.mounts[0].part_slot.reset();
    job.mounts[0].part_shift.reset();
    const Finding finding = named(holes_of(job), "mounts/H1/slot");
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_FALSE(finding.margin);
    EXPECT_THAT(finding.missing, Contains("the diameter of H1's hole in the part"));
    expect_taken(job, "mounts/H1/slot", holes_of);
    expect_taken(job, "mounts/H1/slot width", holes_of);
}

TEST(HoleFindings, WhatIsMissingKeepsItFromHolding) {
    Job job = drawn_world();
    job.fitting.hot.reset();
    const Finding finding = named(holes_of(job), "mounts/H1/slot");
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_THAT(finding.missing, Contains("the part's temperature when hot"));
    EXPECT_EQ(named(holes_of(job), "mounts/H3/slot").state, State::holds);  // The locator grows nowhere.
}

TEST(HoleFindings, JobInInchesIsMendedInMillimetres) {
    Job job = drawn_world();
    job.unit = BareUnit::in;
    job.mounts[0].part_slot = mm(8);
    expect_taken(job, "mounts/H1/slot", holes_of);
}

TEST(HoleFindings, LocatorWithTooMuchPlay) {
    Job job = drawn_world();
    job.mounts[2].part_hole = mm(8);
    const Finding finding = named(holes_of(job), "mounts/locator");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(*finding.found, 1.0, k_rounding);
    EXPECT_NEAR(*finding.required, 0.25, k_rounding);
    expect_taken(job, "mounts/locator", holes_of);
}

TEST(HoleFindings, LocatorThatIsSlotted) {
    Job job = drawn_world();
    job.mounts[2].part_slot = mm(10);
    EXPECT_EQ(named(holes_of(job), "mounts/locator").state, State::falls_short);
    expect_taken(job, "mounts/locator", holes_of);
}

TEST(HoleFindings, SecondRoundHole) {
    Job job = drawn_world();
    job.mounts[4].part_hole = mm(6.5);
    job.mounts[4].part_slot.reset();
    const Finding finding = named(holes_of(job), "mounts/locator");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_THAT(finding.why, HasSubstr("H5"));
    expect_taken(job, "mounts/locator", holes_of);
}

TEST(HoleFindings, LocatorOverASlotOfTheBody) {
    Job job = drawn_world();
    job.mounts[2].shape = HoleShape::slot;
    job.fitting.locator = "H3";
    const Finding finding = named(holes_of(job), "mounts/locator");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_THAT(finding.why, HasSubstr("slot in the body"));
    const Job after = expect_taken(job, "mounts/locator", holes_of);
    EXPECT_EQ(after.fitting.locator, "");
    EXPECT_EQ(plan_of(after).locator, "H2");
}

TEST(HoleFindings, ChosenLocatorThatDoesNotLandIsNamed) {
    Job job = drawn_world();
    job.mounts.push_back(job.mounts[0]);
    job.mounts.back().name = "H6";
    job.mounts.back().axis = {0, 1, 0};
    job.fitting.locator = "H6";
    const Finding finding = named(holes_of(job), "mounts/locator");
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_THAT(finding.missing, Contains("where H6, chosen as the locator, lands on the flange"));
    EXPECT_TRUE(plan_of(job).locator_proposed);
    EXPECT_EQ(plan_of(job).locator, "H3");
}

TEST(HoleFindings, NoRoundHoleUsedButOneThere) {
    Job job = drawn_world();
    for (Mount& mount : job.mounts) {
        mount.shape = HoleShape::slot;
    }
    const Finding none = named(holes_of(job), "mounts/locator");
    EXPECT_EQ(none.state, State::falls_short);
    ASSERT_TRUE(none.mend);
    EXPECT_FALSE(none.mend->can_be_taken());
    job.mounts[1].shape = HoleShape::round;
    job.mounts[1].use = MountUse::unused;
    const Job after = expect_taken(job, "mounts/locator", holes_of);
    EXPECT_EQ(after.mounts[1].use, MountUse::flange);
}

TEST(HoleFindings, LeftHandGivesTheSameNumbers) {
    Job job = drawn_world();
    job.mounts[0].part_slot = mm(11);
    const auto right = holes_of(job);
    job.side = Side::left;
    const auto left = holes_of(job);
    ASSERT_EQ(right.size(), left.size());
    for (std::size_t i = 0; i < right.size(); ++i) {
        EXPECT_EQ(right[i], left[i]) << right[i].id;
    }
}

}  // namespace
}  // namespace sillwright::core
