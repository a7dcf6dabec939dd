#include "core/mounts/grip.h"

#include <gtest/gtest.h>

#include "tests/core/mounts/flange_world.h"

// Sums done by hand: panel 0.8 + spacer 2 + sheet 3 + paint 0.12 = 5.92 mm.

namespace sillwright::core {
namespace {

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
    EXPECT_NEAR(*near_most.margin, 0.58, 1e-12);
    EXPECT_EQ(near_most.state, State::holds);
    const Finding near_least = grip(gripped(5, 8));
    EXPECT_TRUE(near_least.at_least);
    EXPECT_NEAR(*near_least.margin, 0.92, 1e-12);
}

TEST(Grip, NarrowRangeIsCloseByItsOwnQuarter) {
    // Half the range is 0.5: no margin can be greater. A quarter of that is the band.
    EXPECT_EQ(grip(gripped(5.4, 6.4)).state, State::holds);
    EXPECT_EQ(grip(gripped(5.0, 6.0)).state, State::close);
}

TEST(Grip, TooThick) {
    // A clip that was bought for a thinner stack: common practice, no source.
    const Finding finding = grip(gripped(3, 4.5));
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(*finding.margin, 4.5 - 5.92, 1e-12);
    ASSERT_TRUE(finding.mend);
    EXPECT_NE(finding.mend->words.find("1.42 mm"), std::string::npos) << finding.mend->words;
}

TEST(Grip, TooThin) {
    const Finding finding = grip(gripped(7, 9));
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(*finding.margin, 5.92 - 7, 1e-12);
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
