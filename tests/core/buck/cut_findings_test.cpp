#include "core/buck/cut_findings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>

#include "core/edit/mend_edit.h"
#include "core/job_file.h"
#include "tests/core/buck/example_buck.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;
using testing::HasSubstr;

std::vector<Finding> all_of(const Job& job, const BuckPlan& plan, Mends mends = Mends::look_for) {
    return cut_findings(job, plan, cut_parts(job, plan).value(), mends);
}

Finding one_of(const Job& job, const BuckPlan& plan, const std::string& name, Mends mends = Mends::look_for) {
    const auto all = all_of(job, plan, mends);
    const auto found = std::ranges::find(all, "buck/skirt/cut " + name, &Finding::id);
    EXPECT_NE(found, all.end()) << name;
    return found == all.end() ? Finding{} : *found;
}

/// A job that can be saved, for what the plan by hand does not say.
Job sample_job() {
    Job job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples" / "estate_a.sillwright").value();
    job.buck = tests::buck_job().buck;
    return job;
}

/// The mend taken, the finding holds by what was proven.
void expect_mended(const Job& job, const BuckPlan& plan, const Finding& finding) {
    ASSERT_TRUE(finding.mend.has_value());
    ASSERT_TRUE(finding.mend->can_be_taken()) << finding.mend->words;
    const auto edit = take_mend(job, finding);
    ASSERT_TRUE(edit.has_value()) << edit.error().message;
    const auto after = all_of(edit.value().job, plan);
    const auto again = std::ranges::find(after, finding.id, &Finding::id);
    ASSERT_NE(again, after.end());
    ASSERT_TRUE(again->margin.has_value());
    EXPECT_GE(*again->margin, 0.0) << finding.mend->words;
    ASSERT_TRUE(finding.mend->proven_margin.has_value());
    if (again->unit == finding.unit) {
        EXPECT_NEAR(*again->margin, *finding.mend->proven_margin, 1e-9);
    }
    EXPECT_GE(*finding.mend->proven_margin, 0.0);
}

TEST(CutFindings, HoldOfABuckThatCanBeCut) {
    const auto all = all_of(sample_job(), tests::buck_plan_by_hand());
    EXPECT_EQ(all.size(), 6U);
    for (const Finding& finding : all) {
        EXPECT_EQ(finding.state, State::holds) << finding.id << ": " << finding.why;
        EXPECT_EQ(finding.stage, Stage::buck);
        EXPECT_FALSE(finding.formula.empty());
        EXPECT_FALSE(finding.source.empty());
        EXPECT_FALSE(finding.why.empty());
        EXPECT_FALSE(finding.mend.has_value());
    }
}

TEST(CutFindings, SayNothingOfAPieceWithoutRibs) {
    EXPECT_TRUE(all_of(sample_job(), {{PieceBuck{}}}).empty());
}

TEST(CutFindings, AskForTheBit) {
    Job job = sample_job();
    for (const char* const name : {"", "no such bit"}) {
        job.buck.bit = name;
        for (const char* const id : {"bit", "reach"}) {
            const Finding finding = one_of(job, tests::buck_plan_by_hand(), id);
            EXPECT_EQ(finding.state, State::not_measured) << id;
            EXPECT_EQ(finding.missing.size(), 1U);
            EXPECT_FALSE(finding.found.has_value());
        }
    }
}

TEST(CutFindings, SayThatABitIsTooWideForTheSlots) {
    Job job = sample_job();
    job.buck.bit = "flat 16";
    const Finding finding = one_of(job, tests::buck_plan_by_hand(), "bit");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_DOUBLE_EQ(*finding.found, 12.15);
    EXPECT_DOUBLE_EQ(*finding.required, 16.0);
    expect_mended(job, tests::buck_plan_by_hand(), finding);
    EXPECT_FALSE(one_of(job, tests::buck_plan_by_hand(), "bit", Mends::leave).mend.has_value());
    // So do the corners: no relief was made for it.
    const Finding reach = one_of(job, tests::buck_plan_by_hand(), "reach");
    EXPECT_EQ(reach.state, State::falls_short);
    EXPECT_THAT(reach.place.words, HasSubstr("side"));
    expect_mended(job, tests::buck_plan_by_hand(), reach);
}

TEST(CutFindings, SayThatABitIsTooShortForTheBoard) {
    Job job = sample_job();
    auto plan = tests::buck_plan_by_hand();
    for (Rib& rib : plan.pieces[0].ribs) {
        rib.thickness_mm = 18.0;  // flat 6 reaches 16, flat 10 reaches 20
    }
    const Finding finding = one_of(job, plan, "bit");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_DOUBLE_EQ(*finding.margin, -2.0);
    expect_mended(job, plan, finding);
    EXPECT_THAT(finding.mend->words, HasSubstr("flat 10"));
}

TEST(CutFindings, SayThatABitIsNotSquareAtItsEnd) {
    Job job = sample_job();
    for (const char* const name : {"round nose 6", "V 90 12", "flat 12 corners 3"}) {
        job.buck.bit = name;
        const Finding finding = one_of(job, tests::buck_plan_by_hand(), "bit");
        EXPECT_EQ(finding.state, State::falls_short) << name;
        EXPECT_DOUBLE_EQ(*finding.margin, name[0] == 'V' ? -6.0 : -3.0);
        expect_mended(job, tests::buck_plan_by_hand(), finding);
    }
}

TEST(CutFindings, SayWhereAHollowIsRounderThanTheBit) {
    // A hollow of radius 3.5 under a bit of 10: (1 / cos(turn / 2) - 1) (5 - 3.5), plane geometry; its edges arrive
    // along
    // (-32, 6) and leave along (-6, 54).
    Job job = sample_job();
    job.buck.bit = "flat 10";
    auto plan = tests::buck_plan_by_hand();
    plan.pieces[0].ribs[1] = tests::rib("R2", "2", 250.0, 3.5);
    const Finding finding = one_of(job, plan, "reach");
    EXPECT_EQ(finding.state, State::falls_short);
    const Eigen::Vector2d in = Eigen::Vector2d(-32, 6).normalized();
    const Eigen::Vector2d out = Eigen::Vector2d(-6, 54).normalized();
    const double turn = std::acos(in.dot(out));
    EXPECT_NEAR(*finding.found, (1.0 / std::cos(turn / 2.0) - 1.0) * 1.5, 1e-6);
    EXPECT_THAT(finding.place.words, HasSubstr("R2"));
    ASSERT_TRUE(finding.place.along.has_value());
    EXPECT_DOUBLE_EQ(geometry::in_mm(*finding.place.along), 650.0);
    expect_mended(job, plan, finding);
    EXPECT_THAT(finding.mend->words, HasSubstr("flat 6"));
}

TEST(CutFindings, SayWhereNoBitHelps) {
    Job job = sample_job();
    auto plan = tests::buck_plan_by_hand();
    plan.pieces[0].ribs[1] = tests::rib("R2", "2", 250.0, 0.5);
    const Finding finding = one_of(job, plan, "reach");
    EXPECT_EQ(finding.state, State::falls_short);
    ASSERT_TRUE(finding.mend.has_value());
    EXPECT_FALSE(finding.mend->can_be_taken());
    // With a bit of 1 mm in the list there is one.
    Bit thin;
    thin.name = "flat 1";
    thin.form = BitForm::flat;
    thin.diameter = Entry{millimetres(1), ""};
    thin.reach = Entry{millimetres(14), ""};
    job.forming.router.bits = {thin};
    const Finding again = one_of(job, plan, "reach");
    EXPECT_EQ(again.state, State::falls_short);
    expect_mended(job, plan, again);
}

TEST(CutFindings, SayWhichPartCannotBeCut) {
    auto plan = tests::buck_plan_by_hand();
    plan.pieces[0].ribs[1].laps[0].depth_mm = 120.0;
    const Finding finding = one_of(sample_job(), plan, "parts");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_DOUBLE_EQ(*finding.margin, -1.0);
    EXPECT_THAT(finding.why, HasSubstr("R2"));
    EXPECT_THAT(finding.place.words, HasSubstr("R2"));
}

TEST(CutFindings, SayThatALabelStandsTwice) {
    auto plan = tests::buck_plan_by_hand();
    plan.pieces[0].ribs[2].label = "R1";
    const Finding finding = one_of(sample_job(), plan, "labels");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_THAT(finding.why, HasSubstr("R1"));
}

TEST(CutFindings, SayThatAPartHasNoRoomForItsWords) {
    auto plan = tests::buck_plan_by_hand();
    Rib& rib = plan.pieces[0].ribs[0];
    rib.outline = geometry::make_profile({{{0, 0}, {}}, {{60, 0}, {}}, {{60, 9}, {}}, {{0, 9}, {}}}, true).value();
    rib.far_outline = rib.outline;
    rib.laps.clear();
    rib.pins_mm.clear();
    const Finding finding = one_of(sample_job(), plan, "words");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_DOUBLE_EQ(*finding.margin, -1.0);
    EXPECT_THAT(finding.why, HasSubstr("R1"));
    EXPECT_TRUE(finding.mend.has_value());
}

TEST(CutFindings, SayThatTabsHaveNoRoom) {
    Job job = sample_job();
    auto plan = tests::buck_plan_by_hand();
    // Tabs of 30 find no stretch of 36 but on the base, and on few of the others.
    job.buck.tab_width.value = millimetres(110);
    const Finding few = one_of(job, plan, "tabs");
    EXPECT_EQ(few.state, State::falls_short);
    EXPECT_EQ(few.unit, Unit::none);
    expect_mended(job, plan, few);
    // Over its board's thickness.
    job = sample_job();
    job.buck.tab_height.value = millimetres(13);
    const Finding high = one_of(job, plan, "tabs");
    EXPECT_EQ(high.state, State::falls_short);
    EXPECT_DOUBLE_EQ(*high.margin, -1.0);
    expect_mended(job, plan, high);
    // A pitch that cannot be held.
    job = sample_job();
    job.buck.tab_pitch.value = millimetres(20);
    const Finding wide = one_of(job, plan, "tabs");
    EXPECT_EQ(wide.state, State::falls_short);
    EXPECT_EQ(wide.unit, Unit::mm);
    expect_mended(job, plan, wide);
}

}  // namespace
}  // namespace sillwright::core
