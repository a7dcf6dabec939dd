#include "core/forming/forming_plan.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "core/edit/field_change.h"
#include "core/edit/mend_edit.h"
#include "core/evaluate.h"
#include "core/job_file.h"

namespace sillwright::core {
namespace {

const std::filesystem::path k_samples = SILLWRIGHT_SOURCE_DIR "/samples";

std::shared_ptr<const Evaluation> evaluated(const Job& job) {
    auto found = evaluate(job, k_samples);
    EXPECT_TRUE(found) << (found ? "" : found.error().message);
    return found.value();
}

Job estate() {
    return read_job(k_samples / "estate_a.sillwright").value();
}

std::vector<Finding> of_stage(const Evaluation& evaluation) {
    std::vector<Finding> found;
    std::copy_if(evaluation.findings.begin(), evaluation.findings.end(), std::back_inserter(found),
                 [](const Finding& one) { return one.stage == Stage::forming; });
    return found;
}

TEST(FormingPlan, HasAllOfTheStageForEachPieceThatIsDrawn) {
    const auto evaluation = evaluated(estate());
    ASSERT_EQ(evaluation->forming->pieces.size(), 1U);
    const PieceForming& piece = evaluation->forming->pieces.front();
    EXPECT_TRUE(piece.draw.missing.empty());
    EXPECT_FALSE(piece.thinning.places.empty());
    EXPECT_TRUE(piece.platen.missing.empty());
    EXPECT_EQ(piece.lanes.size(), evaluation->job.skirt.pieces.front().flutes.size() +
                                      evaluation->job.skirt.pieces.front().recesses.size());
    EXPECT_FALSE(piece.ladders.empty());
    EXPECT_EQ(evaluation->forming->chain.size(), evaluation->job.forming.generations.size());
    EXPECT_NE(evaluation->car.pieces.front().formed, nullptr);
}

TEST(FormingPlan, FindingsAreWholeAndOfOneStage) {
    const auto evaluation = evaluated(estate());
    std::set<std::string> ids;
    for (const Finding& one : of_stage(*evaluation)) {
        EXPECT_TRUE(one.id.starts_with("forming/")) << one.id;
        EXPECT_TRUE(ids.insert(one.id).second) << one.id << " stands twice";
        EXPECT_FALSE(one.formula.empty()) << one.id;
        EXPECT_FALSE(one.source.empty()) << one.id;
        EXPECT_FALSE(one.why.empty()) << one.id;
        EXPECT_TRUE(one.state == State::holds || one.state == State::close) << one.id << ": " << one.why;
    }
    EXPECT_GT(ids.size(), 10U);
}

TEST(FormingPlan, SaysWhatIsNotDecidedAndComputesNothingOfIt) {
    Job job = estate();
    job.forming = {};
    const auto evaluation = evaluated(job);
    EXPECT_EQ(evaluation->car.pieces.front().formed, nullptr);
    const auto stage = of_stage(*evaluation);
    EXPECT_FALSE(stage.empty());
    for (const Finding& one : stage) {
        EXPECT_TRUE(one.state == State::not_measured || one.state == State::holds) << one.id << ": " << one.why;
        EXPECT_EQ(one.state == State::not_measured, !one.missing.empty()) << one.id;
    }
}

TEST(FormingPlan, UpdatesToWhatItComputesAnew) {
    const Job before = estate();
    const auto first = evaluated(before);
    const auto changed =
        with_changes(before, {length_change(before, "/forming/clamp_distance",
                                            before.forming.clamp_distance->value + geometry::millimetres(25.0))});
    ASSERT_TRUE(changed);
    const auto updated = update(changed.value(), *first, k_samples);
    ASSERT_TRUE(updated);
    const auto anew = evaluated(changed.value());
    EXPECT_EQ(updated.value()->findings, anew->findings);
    EXPECT_NE(*updated.value()->car.pieces.front().formed, *first->car.pieces.front().formed);
}

TEST(FormingPlan, EveryMendOfABadJobIsTakenAndHolds) {
    Job job = estate();
    job.forming.tilt = geometry::degrees(12.0);
    job.forming.machine.clear();
    job.forming.machines = {Machine{"too small", Entry{geometry::millimetres(1500.0), ""},
                                    Entry{geometry::millimetres(400.0), ""}, Entry{geometry::millimetres(25.0), ""},
                                    Entry{geometry::millimetres(60.0), ""}, Entry{geometry::millimetres(2.0), ""},
                                    std::nullopt, std::nullopt}};
    job.forming.machine = "too small";
    const auto evaluation = evaluated(job);
    int taken = 0;
    for (const Finding& one : of_stage(*evaluation)) {
        if (one.state != State::falls_short || !one.mend || !one.mend->can_be_taken()) {
            continue;
        }
        const auto mended = take_mend(job, one);
        ASSERT_TRUE(mended) << one.id;
        const auto after = evaluated(mended.value().job);
        const auto again = std::find_if(after->findings.begin(), after->findings.end(),
                                        [&](const Finding& other) { return other.id == one.id; });
        ASSERT_NE(again, after->findings.end()) << one.id;
        EXPECT_NE(again->state, State::falls_short) << one.id << ": " << one.mend->words;
        ++taken;
    }
    EXPECT_GE(taken, 2);
}

}  // namespace
}  // namespace sillwright::core
