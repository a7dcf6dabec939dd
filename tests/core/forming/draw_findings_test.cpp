#include "core/forming/draw_findings.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/edit/mend_edit.h"
#include "core/forming/draw.h"
#include "tests/core/forming/draw_world.h"

namespace sillwright::core {
namespace {

using draw_world::c_section;
using draw_world::estate_of_parallel_walls;
using draw_world::job_of;
using draw_world::k_deg;
using draw_world::line_of;
using draw_world::mm;
using geometry::degrees;
using geometry::in_deg;

struct Two {
    Finding draft, undercut;
};

Two findings_of(const Job& job, Mends mends = Mends::leave) {
    const auto line = line_of(job);
    const Piece& piece = job.skirt.pieces[0];
    const auto all = draw_findings(job, piece, line, draw_plan(job, piece, line), mends);
    EXPECT_EQ(all.size(), 2U);
    EXPECT_EQ(all[0].id, "forming/skirt/draft");
    EXPECT_EQ(all[1].id, "forming/skirt/undercut");
    for (const Finding& finding : all) {
        EXPECT_FALSE(finding.formula.empty());
        EXPECT_FALSE(finding.source.empty());
        EXPECT_FALSE(finding.why.empty());
        EXPECT_EQ(finding.stage, Stage::forming);
    }
    return {all[0], all[1]};
}

std::string input(const Finding& finding, const std::string& name) {
    for (const Input& one : finding.inputs) {
        if (one.name == name) {
            return one.value;
        }
    }
    return "no input " + name;
}

/// Takes the mend, looks again: the margin that was promised.
void expect_mended(const Job& job, bool draft, double most_over) {
    const Two before = findings_of(job, Mends::look_for);
    const Finding& finding = draft ? before.draft : before.undercut;
    ASSERT_EQ(finding.state, State::falls_short) << finding.why;
    ASSERT_TRUE(finding.mend);
    ASSERT_TRUE(finding.mend->can_be_taken()) << finding.mend->words;
    ASSERT_TRUE(finding.mend->proven_margin);
    const auto edit = take_mend(job, finding);
    ASSERT_TRUE(edit) << (edit ? "" : edit.error().message) << "\n" << finding.mend->words;
    const Two after = findings_of(edit.value().job);
    const Finding& then = draft ? after.draft : after.undercut;
    ASSERT_TRUE(then.margin);
    EXPECT_GE(*then.margin, 0.0) << finding.mend->words;
    EXPECT_LE(*then.margin, most_over) << finding.mend->words;
    EXPECT_NEAR(*then.margin, *finding.mend->proven_margin, 1e-9) << finding.mend->words;
    EXPECT_NE(then.state, State::falls_short);
    if (draft) {
        EXPECT_NE(after.undercut.state, State::falls_short);
    }
}

TEST(DrawFindings, DraftAndItsPlace) {
    Job job = job_of({c_section(4, 9), c_section(4, 7)});
    job.forming.tilt = degrees(0);
    const Two two = findings_of(job);
    EXPECT_EQ(two.draft.state, State::holds);
    EXPECT_EQ(two.draft.unit, Unit::deg);
    EXPECT_NEAR(*two.draft.found, 4.0, 1e-9);
    EXPECT_NEAR(*two.draft.required, 3.0, 1e-12);
    EXPECT_NEAR(*two.draft.margin, 1.0, 1e-9);
    EXPECT_EQ(input(two.draft, "tilt used"), "0.00°, as decided");
    // 4 + t and 7 - t; where the underside has 9 degrees it is not the least.
    EXPECT_EQ(input(two.draft, "best tilt").substr(0, 6), "1.50°");
    EXPECT_EQ(input(two.draft, "shelf inner to shelf edge").substr(0, 6), "4.00°");
    EXPECT_EQ(two.undercut.state, State::holds);
    EXPECT_EQ(*two.undercut.found, 0.0);
    EXPECT_FALSE(two.undercut.mend);
    job.forming.draft_least = degrees(3.7);
    EXPECT_EQ(findings_of(job).draft.state, State::close);
    EXPECT_NE(findings_of(job).draft.source.find("decided"), std::string::npos);
}

TEST(DrawFindings, WithoutAMouldNotMeasured) {
    Job job = estate_of_parallel_walls();
    job.forming.mould.reset();
    const Two two = findings_of(job, Mends::look_for);
    for (const Finding& finding : {two.draft, two.undercut}) {
        EXPECT_EQ(finding.state, State::not_measured);
        EXPECT_TRUE(finding.found);
        EXPECT_FALSE(finding.margin);
        EXPECT_FALSE(finding.mend);
        ASSERT_EQ(finding.missing.size(), 1U);
        EXPECT_EQ(finding.missing[0], "the mould: male or female");
    }
}

// A tilt decided badly, where another is enough.
TEST(DrawFindings, TiltMendsTheDraft) {
    Job job = estate_of_parallel_walls();
    const auto lean = findings_of(job, Mends::look_for).draft;
    job = take_mend(job, lean).value().job;
    job.forming.draft_least = degrees(2.9);
    job.forming.tilt = degrees(4);
    const Two before = findings_of(job, Mends::look_for);
    ASSERT_TRUE(before.draft.mend);
    EXPECT_TRUE(before.draft.mend->moves.empty());
    ASSERT_EQ(before.draft.mend->changes.size(), 1U);
    EXPECT_EQ(before.draft.mend->changes[0].pointer, "/forming/tilt_deg");
    expect_mended(job, true, 0.2);
    ASSERT_EQ(before.undercut.state, State::falls_short);
    expect_mended(job, false, 0.0);
}

TEST(DrawFindings, LeanMendsTheDraft) {
    const Job job = estate_of_parallel_walls();
    const Two before = findings_of(job, Mends::look_for);
    EXPECT_LT(*before.draft.found, 0.0);
    EXPECT_GT(*before.draft.found, -3.0);
    ASSERT_TRUE(before.draft.mend);
    EXPECT_FALSE(before.draft.mend->moves.empty());
    EXPECT_TRUE(before.draft.mend->changes.empty());
    expect_mended(job, true, 0.05);
    expect_mended(job, false, 0.0);
}

TEST(DrawFindings, LeanWithAnotherTilt) {
    Job job = estate_of_parallel_walls();
    job.forming.tilt = degrees(2);
    const Two before = findings_of(job, Mends::look_for);
    ASSERT_TRUE(before.draft.mend);
    EXPECT_FALSE(before.draft.mend->moves.empty());
    EXPECT_EQ(before.draft.mend->changes.size(), 1U);
    expect_mended(job, true, 0.05);
    job.forming.mould = MouldKind::female;
    expect_mended(job, true, 0.05);
}

TEST(DrawFindings, LeanOfAFlangeThatIsBentAfter) {
    Job job = estate_of_parallel_walls();
    job.skirt.pieces[0].flange.making = FlangeMaking::bent_after;
    EXPECT_NE(input(findings_of(job).draft, "flange").find("lower edge to flange root"), std::string::npos);
    expect_mended(job, true, 0.05);
}

TEST(DrawFindings, LeanLeavesWhatThePartCanBeSprungOver) {
    Job job = estate_of_parallel_walls();
    job.forming.tilt = degrees(-2.5);
    const double depth = *findings_of(job).undercut.found;
    EXPECT_GT(depth, 0.3);
    job.forming.undercut_most = mm(0.4 * depth);
    expect_mended(job, false, 0.02);
    job.forming.undercut_most = mm(depth + 0.1);
    EXPECT_NE(findings_of(job).undercut.state, State::falls_short);
}

TEST(DrawFindings, WhereNoTiltHelpsTheFlange) {
    Job job = estate_of_parallel_walls();
    job.forming.tilt_from = degrees(-1);
    const Two two = findings_of(job, Mends::look_for);
    ASSERT_TRUE(two.draft.mend);
    EXPECT_FALSE(two.draft.mend->can_be_taken());
    EXPECT_NE(two.draft.mend->words.find("bend it after"), std::string::npos);
}

// By hand: 60 mm that lean back by 2 degrees.
TEST(DrawFindings, UndercutByHand) {
    auto spots = c_section(0, 5);
    spots[0].out = 100 - 60 * std::cos(2 * k_deg);
    spots[0].up = 80 - 60 * std::sin(2 * k_deg);
    Job job = job_of({spots, spots});
    job.forming.tilt = degrees(0);
    const Finding finding = findings_of(job).undercut;
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_FALSE(finding.at_least);
    EXPECT_NEAR(*finding.found, 60 * std::sin(2 * k_deg), 1e-9);
    EXPECT_NEAR(*finding.margin, -60 * std::sin(2 * k_deg), 1e-9);
    ASSERT_TRUE(finding.place.on_part_mm);
    EXPECT_NEAR(finding.place.on_part_mm->y(), spots[0].out, 1e-9);
    EXPECT_NE(finding.why.find("shelf inner to shelf edge"), std::string::npos);
    job.forming.undercut_most = mm(2.2);
    EXPECT_EQ(findings_of(job).undercut.state, State::close);
    job.forming.undercut_most = mm(4);
    EXPECT_EQ(findings_of(job).undercut.state, State::holds);
}

TEST(DrawFindings, SquareEndCapsAreSaid) {
    Job job = job_of({c_section(4, 7), c_section(4, 7)});
    EXPECT_EQ(input(findings_of(job).draft, "front end cap"), "no input front end cap");
    job.skirt.pieces[0].front_closed = true;
    EXPECT_NE(input(findings_of(job).draft, "front end cap").find("3.00°"), std::string::npos);
}

}  // namespace
}  // namespace sillwright::core
