#include "core/forming/draft_lean.h"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <set>

#include "core/edit/edit.h"
#include "core/swing/swing_mend.h"
#include "tests/core/forming/draw_world.h"

namespace sillwright::core {
namespace {

using draw_world::c_section;
using draw_world::job_of;
using draw_world::k_deg;
using draw_world::least_deg;
using draw_world::line_of;
using draw_world::plan_of;
using geometry::degrees;
using geometry::in_deg;

std::map<std::string, Eigen::Vector2d> moves_of(const Job& job, double tilt_deg, double draft_deg) {
    std::map<std::string, Eigen::Vector2d> moves;
    for (const NodeMove& move : leaning_moves(job.skirt.pieces[0], degrees(tilt_deg), degrees(draft_deg))) {
        moves[move.node_id] = move.by_mm;
    }
    return moves;
}

// By hand: the root stays, so the underside of 60 mm opens from 1 to 5 degrees by its outer end alone. The shelf's two
// ends share what it lacks, its free inner one weighing as four.
TEST(DraftLean, OpensTheWallsAndLeavesTheRoot) {
    const Job job = job_of({c_section(2, 1), c_section(2, 1)});
    const auto moves = moves_of(job, 0.0, 5.0);
    const double shelf = 60 * (std::tan(5 * k_deg) - std::tan(2 * k_deg));
    const double under = 60 * (std::tan(5 * k_deg) - std::tan(1 * k_deg));
    ASSERT_EQ(moves.size(), 6U);
    EXPECT_NEAR(moves.at("1 shelf inner").y(), shelf / 5, 1e-12);
    EXPECT_NEAR(moves.at("1 shelf edge").y(), -shelf * 4 / 5, 1e-12);
    EXPECT_NEAR(moves.at("2 lower edge").y(), under, 1e-12);
    EXPECT_EQ(moves.count("1 flange root"), 0U);
    EXPECT_TRUE(moves_of(job, 0.0, 0.9).empty());
}

TEST(DraftLean, EveryStraightHasTheDraftThen) {
    const Job job = draw_world::estate_of_parallel_walls();
    for (const double tilt : {-4.0, -2.5}) {
        for (const double draft : {0.0, 3.0, 6.0}) {
            Job after = mended(job, leaning_moves(job.skirt.pieces[0], degrees(tilt), degrees(draft)));
            after.forming.tilt = degrees(tilt);
            const DrawPlan plan = plan_of(after);
            for (const StripDraft& strip : plan.strips) {
                if (strip.from != "flange root" && strip.from != strip.to) {
                    // The car's bow along the part takes a little of it.
                    EXPECT_GT(in_deg(strip.least), draft - 0.05) << strip.from << " at " << tilt;
                }
            }
        }
    }
}

TEST(DraftLean, ShouldersGoTogetherAndTheFlangeStays) {
    const Job job = draw_world::estate_of_parallel_walls();
    const auto moves = moves_of(job, -3.0, 3.0);
    const auto id = [&](const std::string& name) {
        for (const Node& node : job.skirt.pieces[0].drawn.sections[4].nodes) {
            if (node.name == name) {
                return node.id;
            }
        }
        return std::string();
    };
    ASSERT_TRUE(moves.count(id("shelf edge")) && moves.count(id("lower edge")));
    EXPECT_LT(moves.at(id("shelf edge")).y(), -0.5);
    EXPECT_EQ(moves.at(id("shelf edge")), moves.at(id("bead")));
    EXPECT_GT(moves.at(id("lower edge")).y(), 0.5);
    EXPECT_EQ(moves.at(id("lower edge")), moves.at(id("knee")));
    EXPECT_EQ(moves.count(id("flange root")), 0U);
    EXPECT_EQ(moves.count(id("flange end")), 0U);
}

// The flange of the estate falls inwards by 1 degree: it has 3 degrees of draft from a tilt of -2 degrees down.
TEST(DraftLean, TiltLeavesTheFlangeItsDraft) {
    Job job = draw_world::estate_of_parallel_walls();
    const auto at = lean_tilt(job, job.skirt.pieces[0], line_of(job), degrees(3));
    ASSERT_TRUE(at);
    EXPECT_LE(in_deg(at->tilt), -1.9);
    EXPECT_FALSE(at->changes_tilt);
    job.forming.tilt = degrees(-4);
    EXPECT_NEAR(in_deg(lean_tilt(job, job.skirt.pieces[0], line_of(job), degrees(3))->tilt), -4.0, 1e-12);
    job.forming.tilt = degrees(1);
    const auto changed = lean_tilt(job, job.skirt.pieces[0], line_of(job), degrees(3));
    ASSERT_TRUE(changed);
    EXPECT_TRUE(changed->changes_tilt);
    EXPECT_EQ(in_deg(changed->tilt), in_deg(at->tilt));
    job.forming.tilt_from = degrees(-1);
    EXPECT_FALSE(lean_tilt(job, job.skirt.pieces[0], line_of(job), degrees(3)));
    job.skirt.pieces[0].flange.making = FlangeMaking::bent_after;
    EXPECT_TRUE(lean_tilt(job, job.skirt.pieces[0], line_of(job), degrees(3)));
}

TEST(DraftLean, LeastLeanForAMargin) {
    const Job job = draw_world::estate_of_parallel_walls();
    const auto margin = [](const DrawPlan& plan) { return least_deg(plan) - 3.0; };
    const auto mend = lean_mend(job, job.skirt.pieces[0], line_of(job), {degrees(3), degrees(2), 0.05, margin});
    ASSERT_TRUE(mend);
    EXPECT_GE(*mend->proven_margin, 0.0);
    EXPECT_LE(*mend->proven_margin, 0.05);
    const auto after = plan_after(mended(job, mend->moves), job.skirt.pieces[0]);
    ASSERT_TRUE(after);
    EXPECT_NEAR(least_deg(*after) - 3.0, *mend->proven_margin, 1e-12);
    std::set<std::string> ids;
    for (const NodeMove& move : mend->moves) {
        ids.insert(move.node_id);
        EXPECT_LT(move.by_mm.norm(), 8.0);
    }
    for (const Section& section : job.skirt.pieces[0].drawn.sections) {
        EXPECT_EQ(ids.count(section.nodes[6].id), 0U);
        EXPECT_EQ(ids.count(section.nodes[7].id), 0U);
        EXPECT_EQ(ids.count(section.nodes[5].id), 1U);
    }
    EXPECT_NE(mend->words.find("lower edge"), std::string::npos) << mend->words;
    EXPECT_NE(mend->words.find("higher"), std::string::npos) << mend->words;
    EXPECT_NE(mend->words.find("lower"), std::string::npos) << mend->words;
}

TEST(DraftLean, PieceThatIsGoneHasNoPlan) {
    Job job = draw_world::estate_of_parallel_walls();
    const Piece piece = job.skirt.pieces[0];
    job.skirt.pieces.clear();
    EXPECT_FALSE(plan_after(job, piece));
}

}  // namespace
}  // namespace sillwright::core
