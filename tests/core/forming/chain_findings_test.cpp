#include "core/forming/chain_findings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/core/forming/chain_world.h"
#include "tests/core/mounts/fitting_world.h"

namespace sillwright::core {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::SizeIs;

constexpr double k_rounding = 1e-9;

std::vector<Finding> findings_of(const Job& job) {
    return chain_findings(job, chain_of(job), Mends::look_for);
}

/// The flat flange's skirt, 1500 mm long, with the usual chain.
Job skirt_job() {
    Job job = flat_world();
    const Job chain = chain_job();
    job.forming = chain.forming;
    job.skirt.paint = chain.skirt.paint;
    job.skirt.material = chain.skirt.material;
    return job;
}

Finding chain_finding(const Job& job) {
    return named(findings_of(job), "forming/chain");
}

TEST(ChainFindings, AWholeChainHoldsAndTellsItsSteps) {
    const Finding finding = chain_finding(skirt_job());
    EXPECT_EQ(finding.state, State::holds) << finding.why;
    EXPECT_EQ(*finding.found, 3.0);
    EXPECT_EQ(finding.stage, Stage::forming);
    EXPECT_FALSE(finding.formula.empty());
    EXPECT_FALSE(finding.source.empty());
    // By hand: 1500 (1.010072 - 1) = 15.11 mm.
    EXPECT_THAT(finding.inputs, Contains(testing::Field(&Input::value, HasSubstr("the plug is 15.11 mm longer"))));
    EXPECT_THAT(finding.inputs, Contains(testing::Field(&Input::value, HasSubstr("assumed"))));
    EXPECT_THAT(findings_of(skirt_job()), SizeIs(1)) << "nothing is said of generations without ticks";
}

TEST(ChainFindings, WhatIsMissingIsAssumedOnlyWhenItIsTaken) {
    Job job = skirt_job();
    job.forming.generations[1].shrink_along.reset();
    job.forming.generations[2].shrink_sd.reset();
    job.forming.generations[3].shrink_across.reset();
    Tick unsure = tick("1000 along", 1000, 998, 1);
    unsure.sd.reset();
    job.forming.generations[2].ticks = {unsure};
    const Finding finding = chain_finding(job);
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_THAT(finding.missing, Contains("shrinkage of female mould, along"));
    ASSERT_TRUE(finding.mend);
    EXPECT_THAT(finding.mend->words, HasSubstr("Assume"));
    const Job after = expect_taken(job, "forming/chain", findings_of);
    EXPECT_EQ(*after.forming.generations[1].shrink_along, k_usual_laminate);
    EXPECT_EQ(*after.forming.generations[3].shrink_across, 0.006);
    EXPECT_EQ(after.forming.generations[2].ticks[0].sd->value, k_usual_tick_sd);
}

TEST(ChainFindings, AnEmptyListBecomesTheUsualOne) {
    for (const MouldKind mould : {MouldKind::male, MouldKind::female}) {
        Job job = skirt_job();
        job.forming.generations.clear();
        job.forming.mould = mould;
        const Job after = expect_taken(job, "forming/chain", findings_of);
        EXPECT_EQ(after.forming.generations.size(), mould == MouldKind::male ? 4U : 3U);
    }
}

TEST(ChainFindings, AnUndecidedMouldIsTakenFromTheList) {
    Job job = skirt_job();
    job.forming.mould.reset();
    EXPECT_EQ(expect_taken(job, "forming/chain", findings_of).forming.mould, MouldKind::male);
}

TEST(ChainFindings, AnUnknownSheetIsNotGuessed) {
    Job job = skirt_job();
    job.skirt.material.name = "something else";
    job.forming.generations[3].shrink_along.reset();
    const Finding finding = chain_finding(job);
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());
}

TEST(ChainFindings, StepsThatCannotBeMadeFallShort) {
    Job job = skirt_job();
    job.forming.mould = MouldKind::female;  // while the list ends in a male one
    Finding finding = chain_finding(job);
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_EQ(*finding.margin, -1.0);
    EXPECT_EQ(expect_taken(job, "forming/chain", findings_of).forming.mould, MouldKind::male);

    job = skirt_job();
    job.forming.generations.erase(job.forming.generations.begin() + 1);  // a male mould off the plug
    finding = chain_finding(job);
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_THAT(finding.why,
                HasSubstr("male mould cannot be taken off plug: a female mould is taken off a male shape"));

    job = skirt_job();
    std::swap(job.forming.generations[2], job.forming.generations[3]);
    EXPECT_EQ(chain_finding(job).state, State::falls_short) << "behind the sheet";

    job = skirt_job();
    job.forming.generations = {plug(), generation("sheet", GenerationKind::sheet, 0.006, 0.001)};
    EXPECT_EQ(chain_finding(job).state, State::holds) << "over the plug itself";
}

// By hand: 0.995 measured, 0.998 assumed, sd 0.001: 3 mm in 1000, 4.5 over 1500; allowed 2 · 0.001 · 1500 = 3.
TEST(ChainFindings, MeasuredAgainstAssumedOverThePartsLength) {
    Job job = skirt_job();
    job.forming.generations[1].ticks = {tick("1000 along", 1000, 995, 0.2), tick("80 across", 80, 79.84, 0.2, true)};
    const Finding finding = named(findings_of(job), "forming/chain/female mould");
    EXPECT_NEAR(*finding.found, 4.5, k_rounding);
    EXPECT_NEAR(*finding.required, 3.0, k_rounding);
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_FALSE(finding.at_least);
    EXPECT_THAT(finding.why, HasSubstr("4.50 mm shorter over the part's 1500 mm"));
    const Job after = expect_taken(job, "forming/chain/female mould", findings_of);
    EXPECT_NEAR(*after.forming.generations[1].shrink_along, 0.005, k_rounding);
    EXPECT_NEAR(*after.forming.generations[1].shrink_across, 0.002, k_rounding);
    job.forming.generations[1].ticks[0].now = mm(998.5);
    EXPECT_EQ(named(findings_of(job), "forming/chain/female mould").state, State::holds);
}

// By hand: of 998, 998 and 1001 over 1000 the mean is 999, so that the third is 2 mm off; the residual's standard
// deviation is 0.2 · sqrt(1 + 0.999²) · sqrt(2 / 3) = 0.2308. The ratio by itself is 1.5 mm of 3 over 1500: it would
// hold.
TEST(ChainFindings, AWrongTickDoesNotHideInTheMean) {
    Job job = skirt_job();
    job.forming.generations[1].ticks = {tick("upper", 1000, 998, 0.2), tick("middle", 1000, 998, 0.2),
                                        tick("lower", 1000, 1001, 0.2)};
    const Finding finding = named(findings_of(job), "forming/chain/female mould");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_EQ(finding.unit, Unit::none);
    EXPECT_NEAR(*finding.found, 2.0 / 0.2308, 0.01);
    EXPECT_NEAR(*finding.required, 3.29, k_rounding);
    EXPECT_THAT(finding.why, HasSubstr("tick lower, along, does not fit the others"));
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());
    EXPECT_THAT(finding.mend->words, HasSubstr("Measure tick lower again"));
    EXPECT_THAT(finding.mend->words, HasSubstr("on female mould and on plug"));
    job.forming.generations[1].ticks[2].now = mm(998.3);
    const Finding again = named(findings_of(job), "forming/chain/female mould");
    EXPECT_EQ(again.state, State::holds);
    EXPECT_EQ(again.unit, Unit::mm);
    EXPECT_THAT(again.inputs, Contains(testing::Field(&Input::value, HasSubstr("times what is usual for it"))));
}

// The longest tick draws the line to itself: 3 mm too long, it leaves 0.8 mm at itself, which is 2.3 of the standard
// deviation of a tick, but 4.4 of that of what it leaves.
TEST(ChainFindings, AWrongLongTickDoesNotHideInItsWeight) {
    Job job = skirt_job();
    job.forming.generations[1].ticks = {tick("500 along", 500, 499, 0.25), tick("1000 along", 1000, 998, 0.25),
                                        tick("1860 along", 1860, 1856.28 + 3.0, 0.25)};
    const Finding finding = named(findings_of(job), "forming/chain/female mould");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(*finding.found, 4.4, 0.1);
    EXPECT_THAT(finding.mend->words, HasSubstr("Measure tick 1860 along again"));
}

TEST(ChainFindings, OfTwoTicksBothAreMeasuredAgain) {
    Job job = skirt_job();
    job.forming.generations[1].ticks = {tick("a", 1000, 998, 0.2, true), tick("b", 900, 900.2, 0.2, true)};
    job.forming.generations[1].shrink_sd.reset();
    const Finding finding = named(findings_of(job), "forming/chain/female mould");
    EXPECT_EQ(finding.state, State::falls_short) << "whatever was assumed";
    EXPECT_THAT(finding.missing, Contains("standard deviation of the shrinkage of female mould"));
    EXPECT_THAT(finding.why, HasSubstr("ticks a and b, across, do not fit each other"));
    EXPECT_THAT(finding.mend->words, HasSubstr("Measure ticks a and b again"));
}

TEST(ChainFindings, AHotMouldsShrinkageIsPutAsItIsQuoted) {
    Job job = skirt_job();
    Generation& sheet = job.forming.generations[3];
    sheet.from_hot = true;
    sheet.hot = geometry::celsius(60);
    sheet.expansion_per_k = 25e-6;
    sheet.ticks = {tick("1000 along", 1000, 990, 0.2)};
    const Job after = expect_taken(job, "forming/chain/sheet", findings_of);
    // By hand: 1 - 0.99 / 1.001.
    EXPECT_NEAR(*after.forming.generations[3].shrink_along, 1.0 - 0.99 / 1.001, k_rounding);
}

TEST(ChainFindings, PlannedTicksAreNotMeasuredYet) {
    Job job = skirt_job();
    Tick planned = tick("500 along", 500, 499, 0.2);
    planned.now.reset();
    job.forming.generations[1].ticks = {planned};
    const Finding finding = named(findings_of(job), "forming/chain/female mould");
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_THAT(finding.missing, SizeIs(1));
}

TEST(ChainFindings, LeavesMendsWhileDrawing) {
    Job job = skirt_job();
    job.forming.generations.clear();
    for (const Finding& finding : chain_findings(job, chain_of(job), Mends::leave)) {
        EXPECT_FALSE(finding.mend);
    }
}

}  // namespace
}  // namespace sillwright::core
