#include "core/mounts/grip.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/edit/mend_edit.h"
#include "tests/core/mounts/flange_world.h"

// Sums done by hand: panel 0.8 + spacer 2 + sheet 3 + paint 0.12 = 5.92 mm; within two standard deviations: of the
// panel 0.03, of the flange 5 % of 3, of the paint 15 % of 0.12.

namespace sillwright::core {
namespace {

const double k_half = 2 * std::sqrt(0.03 * 0.03 + 0.15 * 0.15 + 0.018 * 0.018);

Finding grip(const Job& job) {
    return grip_finding(job, job.mounts[0], job.skirt.pieces[0]);
}

Job gripped(double least, double most) {
    Job job = flat_world();
    job.mounts[0].fastener.grip_least = mm(least);
    job.mounts[0].fastener.grip_most = mm(most);
    return job;
}

TEST(Grip, MarginIsToTheNearerEnd) {
    const Finding near_most = grip(gripped(4, 6.5));
    EXPECT_FALSE(near_most.at_least);
    EXPECT_NEAR(*near_most.margin, 0.58 - k_half, 1e-12);
    EXPECT_EQ(near_most.state, State::holds);
    const Finding near_least = grip(gripped(5, 8));
    EXPECT_TRUE(near_least.at_least);
    EXPECT_NEAR(*near_least.margin, 0.92 - k_half, 1e-12);
}

TEST(Grip, NarrowRangeIsCloseByItsOwnQuarter) {
    // Half the range is 0.5, of which 0.308 goes to the stack: no margin can be greater than the rest. A quarter of
    // that is the band.
    EXPECT_EQ(grip(gripped(5.4, 6.4)).state, State::holds);
    EXPECT_EQ(grip(gripped(5.2, 6.25)).state, State::close);
    EXPECT_EQ(grip(gripped(5.0, 6.0)).state, State::falls_short);  // 0.08 is less than the stack is sure of.
}

TEST(Grip, FormedFlangeGoesBeforeTheSheet) {
    Job job = gripped(4, 7);
    job.skirt.pieces[0].flange.thickness = mm(2.1);
    job.skirt.pieces[0].flange.thickness_sd = mm(0.1);
    const Finding finding = grip(job);
    EXPECT_NEAR(*finding.found, 5.02, 1e-12);
    EXPECT_NEAR(*finding.margin, 1.02 - 2 * std::sqrt(0.1 * 0.1 + 0.03 * 0.03 + 0.018 * 0.018), 1e-12);
    // The sheet would have been in the grip; the flange is too thin for it.
    EXPECT_EQ(grip(gripped(5, 7)).state, State::holds);
    job.mounts[0].fastener.grip_least = mm(5);
    EXPECT_EQ(grip(job).state, State::falls_short);
}

TEST(Grip, TooThick) {
    // A clip that was bought for a thinner stack: common practice, no source.
    const Finding finding = grip(gripped(3, 4.5));
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(*finding.margin, 4.5 - 5.92 - k_half, 1e-12);
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());  // Which clips go in is not known without the body's hole.
    EXPECT_NE(finding.mend->words.find("1.73 mm"), std::string::npos) << finding.mend->words;
}

TEST(Grip, MendTakesAFastenerThatFits) {
    for (const auto& [least, most] : {std::pair(3.0, 4.5), std::pair(7.0, 9.0)}) {
        Job job = gripped(least, most);
        job.mounts[0].size = mm(9);
        job.mounts[0].free_depth = mm(18);
        const Finding before = grip(job);
        ASSERT_TRUE(before.mend && before.mend->can_be_taken()) << before.why;
        const auto edit = take_mend(job, before);
        ASSERT_TRUE(edit) << edit.error().message;
        const Finding after = grip(edit.value().job);
        EXPECT_GE(*after.margin, 0.0);
        EXPECT_NEAR(*after.margin, *before.mend->proven_margin, 1e-9);
        EXPECT_NEAR(geometry::in_mm(edit.value().job.mounts[0].fastener.spacer->value), 2.0, 1e-12);
    }
}

TEST(Grip, TooThin) {
    const Finding finding = grip(gripped(7, 9));
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(*finding.margin, 5.92 - 7 - k_half, 1e-12);
    EXPECT_NE(finding.why.find("too thin"), std::string::npos);
}

TEST(Grip, WithoutASpacerTheFlangeLiesOnItsSeat) {
    Job job = gripped(3, 4.5);
    job.mounts[0].fastener.spacer.reset();
    EXPECT_NEAR(*grip(job).found, 3.92, 1e-12);
    EXPECT_EQ(grip(job).state, State::holds);
}

TEST(Grip, WhatIsMissingIsNamed) {
    Job job = gripped(5, 7);
    job.mounts[0].panel_thickness.reset();
    job.skirt.paint.reset();
    job.skirt.pieces[0].sheet.reset();
    const Finding finding = grip(job);
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_EQ(finding.missing.size(), 3U);
}

TEST(Grip, TooThickEvenWithoutThePanel) {
    Job job = gripped(3, 4.5);
    job.mounts[0].panel_thickness.reset();
    EXPECT_EQ(grip(job).state, State::falls_short);
}

TEST(Grip, TooThinWithoutThePanelIsNotMeasured) {
    Job job = gripped(5.5, 7);
    job.mounts[0].panel_thickness.reset();
    EXPECT_EQ(grip(job).state, State::not_measured);
    job.mounts[0].fastener.grip_most.reset();
    EXPECT_EQ(grip(job).state, State::not_measured);
}

TEST(Grip, WithoutARangeNotMeasured) {
    Job job = flat_world();
    job.mounts[0].fastener.grip_least.reset();
    job.mounts[0].fastener.grip_most.reset();
    EXPECT_EQ(grip(job).state, State::not_measured);
    EXPECT_EQ(grip(job).missing.size(), 2U);
}

}  // namespace
}  // namespace sillwright::core
