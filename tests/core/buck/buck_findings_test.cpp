#include "core/buck/buck_findings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <iostream>
#include <set>

#include "core/edit/mend_edit.h"
#include "tests/core/buck/buck_world.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;
using testing::HasSubstr;

std::vector<Finding> found(const BuckWorld& world, Mends mends = Mends::leave) {
    return buck_findings(world.job, world.car, world.forming, world.plan, mends);
}

Finding named(const std::vector<Finding>& all, const std::string& id) {
    const auto one = std::find_if(all.begin(), all.end(), [&](const Finding& f) { return f.id == id; });
    EXPECT_NE(one, all.end()) << id;
    return one == all.end() ? Finding{} : *one;
}

/// The finding falls short, and with its mend taken and all computed anew it holds by the margin that was proven.
void expect_mended(const Job& job, const std::string& id) {
    const Finding short_of = named(found(buck_world(job), Mends::look_for), id);
    EXPECT_EQ(short_of.state, State::falls_short) << id << ": " << short_of.why;
    ASSERT_TRUE(short_of.mend) << id;
    ASSERT_TRUE(short_of.mend->can_be_taken()) << short_of.mend->words;
    ASSERT_TRUE(short_of.mend->proven_margin) << short_of.mend->words;
    const auto edit = take_mend(job, short_of);
    ASSERT_TRUE(edit) << edit.error().message;
    const Finding again = named(found(buck_world(edit.value().job)), id);
    EXPECT_TRUE(again.state == State::holds || again.state == State::close) << short_of.mend->words << " " << again.why;
    EXPECT_NEAR(*again.margin, *short_of.mend->proven_margin, 1e-9);
    EXPECT_GE(*again.margin, 0.0);
}

TEST(BuckFindings, AllHoldOnEstateAAndSayHow) {
    for (const std::string sample : {"estate_a", "estate_a_left", "estate_a_flutes"}) {
        const auto all = found(buck_world(buck_job(sample)), Mends::look_for);
        std::set<std::string> ids;
        for (const Finding& one : all) {
            EXPECT_TRUE(one.id.starts_with("buck/skirt/")) << one.id;
            EXPECT_TRUE(ids.insert(one.id).second) << one.id;
            EXPECT_EQ(one.stage, Stage::buck);
            EXPECT_FALSE(one.formula.empty()) << one.id;
            EXPECT_FALSE(one.source.empty()) << one.id;
            EXPECT_FALSE(one.why.empty()) << one.id;
            EXPECT_FALSE(one.inputs.empty()) << one.id;
            if (one.id != "buck/skirt/chord") {
                EXPECT_TRUE(one.state == State::holds || one.state == State::close)
                    << sample << " " << one.id << ": " << one.why;
            }
            std::cout << sample << " " << one.id << " " << static_cast<int>(one.state) << " " << one.found.value_or(-1)
                      << " " << one.required.value_or(-1) << ": " << one.why << "\n";
        }
        EXPECT_EQ(ids, (std::set<std::string>{"buck/skirt/ladder", "buck/skirt/fit", "buck/skirt/chord",
                                              "buck/skirt/bevel", "buck/skirt/surface", "buck/skirt/spines",
                                              "buck/skirt/assembly", "buck/skirt/rods", "buck/skirt/corners"}));
    }
}

TEST(BuckFindings, NoneBeforeThereIsABoard) {
    Job job = buck_job("estate_a");
    job.buck.boards.clear();
    EXPECT_TRUE(found(buck_world(job)).empty());
}

TEST(BuckFindings, SaysWhatSizeLacks) {
    Job job = buck_job("estate_a");
    job.forming.skin.reset();
    const auto all = found(buck_world(job));
    ASSERT_EQ(all.size(), 1U);
    EXPECT_EQ(all.front().state, State::not_measured);
    EXPECT_THAT(all.front().missing, testing::ElementsAre("skin of the plug"));
}

TEST(BuckFindings, AFitThatIsTightOrLooseIsMended) {
    Job job = buck_job("estate_a");
    job.buck.fit = entry(millimetres(0.04));
    expect_mended(job, "buck/skirt/fit");
    job.buck.fit = entry(millimetres(0.5));
    expect_mended(job, "buck/skirt/fit");
    // half a spread of 0.4 is more than a fit of 0.15
    job.buck.fit = entry(millimetres(0.15));
    job.buck.boards.front().thickness_2 = entry(millimetres(12.3));
    expect_mended(job, "buck/skirt/fit");
}

TEST(BuckFindings, BoardsThatDifferByMoreThanASlotTakesUpCanOnlyBeSorted) {
    Job job = buck_job("estate_a");
    job.buck.boards.front().thickness_2 = entry(millimetres(12.9));
    const Finding fit = named(found(buck_world(job), Mends::look_for), "buck/skirt/fit");
    EXPECT_EQ(fit.state, State::falls_short);
    ASSERT_TRUE(fit.mend);
    EXPECT_FALSE(fit.mend->can_be_taken());
}

TEST(BuckFindings, AThicknessMeasuredOnceIsNotEnoughForTheFit) {
    Job job = buck_job("estate_a");
    job.buck.boards.front().thickness_2.reset();
    const Finding fit = named(found(buck_world(job)), "buck/skirt/fit");
    EXPECT_EQ(fit.state, State::not_measured);
    EXPECT_EQ(fit.missing.size(), 1U);
}

TEST(BuckFindings, RibsThatAreTooFarApartAreMended) {
    Job job = buck_job("estate_a");
    // every other station goes: the bays are twice as long, the chord errors four times as great
    auto& sections = job.skirt.pieces.front().drawn.sections;
    sections = {sections[0], sections[4], sections[9]};
    expect_mended(job, "buck/skirt/chord");
}

TEST(BuckFindings, ATurnedRibOnOneSpineIsMendedByTwo) {
    Job job = buck_job("estate_a");
    job.buck.spines = SpineCount::one;
    const Finding assembly = named(found(buck_world(job), Mends::look_for), "buck/skirt/assembly");
    ASSERT_TRUE(assembly.mend);
    ASSERT_EQ(assembly.mend->changes.size(), 1U);
    EXPECT_EQ(assembly.mend->changes.front().pointer, "/buck/spines");
    expect_mended(job, "buck/skirt/assembly");
}

TEST(BuckFindings, KeysThatAreTooSmallAreMended) {
    Job job = buck_job("estate_a");
    job.buck.key_step = entry(millimetres(1));
    expect_mended(job, "buck/skirt/assembly");
}

TEST(BuckFindings, ManyRibsStepLessAndThatIsSaid) {
    Job job = buck_job("estate_a");
    job.buck.chord_most = entry(millimetres(0.01));
    const BuckWorld world = buck_world(job);
    ASSERT_GT(world.buck().ribs.size(), 20U);
    const Finding assembly = named(found(world), "buck/skirt/assembly");
    EXPECT_THAT(assembly.why, HasSubstr("no room for more"));
}

TEST(BuckFindings, ASpineHigherThanTheRibsIsMended) {
    Job job = buck_job("estate_a");
    job.buck.spine_height = entry(millimetres(400));
    expect_mended(job, "buck/skirt/spines");
}

TEST(BuckFindings, RibsTooNarrowForTwoSpinesTakeOne) {
    Job job = buck_job("estate_a");
    // a thick spine board: two of them have no room beside each other
    Board thick = mdf_12();
    thick.name = "beam";
    thick.thickness_1 = thick.thickness_2 = thick.thickness_3 = entry(millimetres(34));
    job.buck.boards.push_back(thick);
    job.buck.spine_board = "beam";
    expect_mended(job, "buck/skirt/spines");
}

TEST(BuckFindings, ARodTooThickForTheRibsSaysSo) {
    Job job = buck_job("estate_a");
    job.buck.pin = entry(millimetres(70));
    const Finding rods = named(found(buck_world(job), Mends::look_for), "buck/skirt/rods");
    EXPECT_EQ(rods.state, State::falls_short);
    EXPECT_TRUE(rods.mend);
}

TEST(BuckFindings, CornersThatOnlyTheSkinRoundsAreNamed) {
    Job job = buck_job("estate_a");
    job.forming.skin = entry(millimetres(9));
    const BuckWorld world = buck_world(job);
    EXPECT_FALSE(world.buck().sharp.empty());
    const Finding corners = named(found(world), "buck/skirt/corners");
    EXPECT_TRUE(corners.state == State::holds || corners.state == State::close) << corners.why;
    EXPECT_THAT(corners.why, HasSubstr("skin rounds it"));
    EXPECT_LE(world.buck().surface_misfit_mm, 0.05);
}

}  // namespace
}  // namespace sillwright::core
