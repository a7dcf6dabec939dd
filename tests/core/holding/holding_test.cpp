#include "core/holding/holding.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <filesystem>

#include "core/edit/mend_edit.h"
#include "core/holding/beam_cases.h"
#include "core/holding/buckling.h"
#include "core/job_file.h"
#include "tests/core/holding/holding_world.h"

namespace sillwright::core {
namespace {

using geometry::celsius;
using geometry::newtons;

std::vector<Finding> findings_of(const Job& job, Mends mends = Mends::look_for) {
    const CarModel car = held_car(job);
    return holding_findings(job, car, held_plan(job, car), mends);
}

Finding finding_of(const Job& job, const std::string& id) {
    const auto findings = findings_of(job);
    const Finding* const found = held_finding(findings, id);
    EXPECT_NE(found, nullptr) << "no finding " << id;
    return found != nullptr ? *found : Finding{};
}

/// Takes the mend of a finding that falls short, and sees it hold with the margin that was promised.
void expect_mended(const Job& job, const std::string& id) {
    const Finding before = finding_of(job, id);
    ASSERT_EQ(before.state, State::falls_short) << id << ": " << before.why;
    ASSERT_TRUE(before.mend) << id;
    ASSERT_TRUE(before.mend->can_be_taken()) << before.mend->words;
    ASSERT_TRUE(before.mend->proven_margin);
    const auto edit = take_mend(job, before);
    ASSERT_TRUE(edit) << edit.error().message;
    const Finding after = finding_of(edit.value().job, id);
    ASSERT_TRUE(after.margin) << id;
    EXPECT_GE(*after.margin, 0.0) << id;
    EXPECT_NEAR(*after.margin, *before.mend->proven_margin, 1e-9) << id;
    EXPECT_NE(after.state, State::falls_short);
}

TEST(Holding, ASoundPartHoldsAndSaysByHowMuch) {
    const auto findings = findings_of(held_job());
    for (const char* id : {"mounts/skirt/deflection", "mounts/skirt/strain", "mounts/skirt/sag", "mounts/H1/pull",
                           "mounts/H5/pull", "mounts/skirt/buckling between fasteners", "mounts/skirt/step label"}) {
        const Finding* const one = held_finding(findings, id);
        ASSERT_NE(one, nullptr) << id;
        EXPECT_EQ(one->stage, Stage::mounts);
        EXPECT_FALSE(one->why.empty());
        EXPECT_FALSE(one->formula.empty());
        EXPECT_FALSE(one->source.empty());
        EXPECT_FALSE(one->title.empty());
    }
    EXPECT_EQ(held_finding(findings, "mounts/skirt/deflection")->state, State::holds);
    EXPECT_EQ(held_finding(findings, "mounts/skirt/sag")->state, State::holds);
    EXPECT_EQ(held_finding(findings, "mounts/skirt/step label")->state, State::holds);
    EXPECT_NE(held_finding(findings, "mounts/skirt/step label")->why.find("label"), std::string::npos);
}

// The sag of five supports 400 apart with ends of 100 is below that of a single span on two, 5 w L⁴ / 384 EI, and of
// the order of a two-span beam's.
TEST(Holding, SagLiesBelowThatOfASimpleSpan) {
    const Job job = held_job();
    const Finding sag = finding_of(job, "mounts/skirt/sag");
    const CarModel car = held_car(job);
    const PartSection section =
        part_section(job.skirt.pieces[0], *car.pieces[0].line, geometry::millimetres(900)).value();
    const double w = 1050e-9 * section.moments.area_mm2 * 9.80665;
    const double simple = 5 * w * std::pow(400.0, 4) / (384 * 1000 * section.down.second_mm4);
    EXPECT_LT(*sag.found, simple * std::hypot(1.0, section.down.sideways));
    EXPECT_GT(*sag.found, simple / 5);
}

TEST(Holding, AStepOnTheShelfIsTooMuchForClipsAloneAndItsMendHolds) {
    Job job = held_job();
    job.loads.stepping = Stepping::stood_on;
    EXPECT_EQ(held_finding(findings_of(job), "mounts/skirt/step label"), nullptr);
    expect_mended(job, "mounts/H2/pull");
    expect_mended(job, "mounts/H1/pull");
    // By hand: at the last clip, over which the foot stands, all of it and its moment: (1 + lever / arm) · 1000 N is
    // passed a little by the weight. The foot's middle is 30 inboard of the shelf edge.
    const Finding last = finding_of(job, "mounts/H3/pull");
    const double lever = 140 - 30 * 60 / std::hypot(60, 2) - 55;
    EXPECT_NEAR(*last.found, 1000 * (1 + lever / 20), 0.07 * *last.found);
}

TEST(Holding, AFixedTopEdgeTakesTheMoment) {
    Job job = held_job();
    job.loads.stepping = Stepping::stood_on;
    const double free = *finding_of(job, "mounts/H3/pull").found;
    job.skirt.pieces[0].top_edge = TopEdgeFixing::tape;
    const Finding taped = finding_of(job, "mounts/H3/pull");
    EXPECT_LT(*taped.found, free / 3);
    EXPECT_GT(*taped.found, 900.0);
    EXPECT_FALSE(input_of(taped, "the top edge takes").empty());
}

TEST(Holding, ThicknessMendsWhatBendsAndStretches) {
    Job job = held_job();
    job.loads.stepping = Stepping::stood_on;
    const double bent = *finding_of(job, "mounts/skirt/deflection").found;
    job.loads.deflection_most = held_mm(0.8 * bent);
    expect_mended(job, "mounts/skirt/deflection");
    const double strain = *finding_of(job, "mounts/skirt/strain").found;
    job.skirt.material.strain_most = 0.8 * strain / 100;
    expect_mended(job, "mounts/skirt/strain");
}

TEST(Holding, ThicknessMendsASag) {
    Job job = held_job();
    // A sag does grow less than the sheet's weight only as its lever grows: a soft sheet with a small limit.
    const double sag = *finding_of(job, "mounts/skirt/sag").found;
    job.loads.deflection_most = held_mm(0.999 * sag);
    const Finding short_of = finding_of(job, "mounts/skirt/sag");
    EXPECT_EQ(short_of.state, State::falls_short);
    ASSERT_TRUE(short_of.mend);
    if (short_of.mend->can_be_taken()) {
        expect_mended(job, "mounts/skirt/sag");
    } else {
        EXPECT_NE(short_of.mend->words.find("nearer"), std::string::npos);
    }
}

TEST(Holding, WhatIsNotSaidIsListedAndNotGuessed) {
    Job job = held_job();
    job.loads.stepping.reset();
    job.mounts[1].fastener.holds.reset();
    Finding pull = finding_of(job, "mounts/H2/pull");
    EXPECT_EQ(pull.state, State::not_measured);
    EXPECT_TRUE(pull.found);
    EXPECT_FALSE(pull.required);
    EXPECT_EQ(pull.missing.size(), 2U);
    EXPECT_EQ(finding_of(job, "mounts/skirt/deflection").state, State::not_measured);
    EXPECT_EQ(held_finding(findings_of(job), "mounts/skirt/step label"), nullptr);

    job.skirt.material = {};
    EXPECT_EQ(finding_of(job, "mounts/skirt/sag").state, State::not_measured);
    EXPECT_FALSE(finding_of(job, "mounts/skirt/strain").found);

    job = held_job();
    job.skirt.pieces[0].sheet.reset();
    EXPECT_EQ(finding_of(job, "mounts/skirt/deflection").state, State::not_measured);
    EXPECT_FALSE(finding_of(job, "mounts/skirt/deflection").missing.empty());

    job = held_job();
    job.mounts.resize(1);
    const Finding one = finding_of(job, "mounts/skirt/sag");
    EXPECT_EQ(one.state, State::not_measured);
    ASSERT_EQ(one.missing.size(), 1U);
    EXPECT_NE(one.missing[0].find("two fasteners"), std::string::npos);
}

TEST(Holding, AFluteThatDoesNotFitIsSaid) {
    Job job = held_job();
    job.skirt.pieces[0].flutes.push_back({"a", held_mm(5), held_mm(20), held_mm(5), held_mm(2), {}, {}, {}});
    const Finding flutes = finding_of(job, "mounts/skirt/flutes");
    EXPECT_EQ(flutes.state, State::falls_short);
    EXPECT_NE(flutes.why.find("Move its middle"), std::string::npos);
}

TEST(Holding, FlutesAreNotSoldAsStiffness) {
    Job job = held_job();
    job.skirt.pieces[0].flutes.push_back({"a", held_mm(20), held_mm(16), held_mm(5), held_mm(2), {}, {}, {}});
    job.skirt.pieces[0].flutes.push_back({"b", held_mm(40), held_mm(14), held_mm(5), held_mm(2), {}, {}, {}});
    const Finding sag = finding_of(job, "mounts/skirt/sag");
    const std::string gain = input_of(sag, "flutes add to the whole section");
    ASSERT_FALSE(gain.empty());
    EXPECT_LT(std::abs(std::stod(gain)), 10.0);
}

TEST(Holding, WavesWhereSlotsStickAndIsMendedBySlotsThatSlide) {
    Job job = held_job();
    job.fitting.body_material = "steel";
    job.fitting.hot = Warmth{celsius(80), celsius(40), {}};
    job.fitting.fitted = Warmth{celsius(20), celsius(20), {}};
    const std::string id = "mounts/skirt/buckling between fasteners";
    const Finding stuck = finding_of(job, id);
    // By hand: 90e-6 · 60 - 12e-6 · 20 = 0.516 %; (pi²/3) (3/400)² = 0.01851 %.
    EXPECT_NEAR(*stuck.found, 0.516, 1e-9);
    EXPECT_NEAR(*stuck.required, 0.018506, 1e-6);
    expect_mended(job, id);
    for (Mount& mount : job.mounts) {
        mount.fastener.slides = true;
        mount.part_slot = held_mm(14);
    }
    const Finding slid = finding_of(job, id);
    EXPECT_EQ(slid.state, State::holds) << slid.why;
    EXPECT_EQ(*slid.found, 0.0);
    EXPECT_NE(slid.why.find("even if"), std::string::npos);
}

TEST(Holding, AllOfItForTheEstateTakesAFewMilliseconds) {
    const auto job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples" / "estate_a.sillwright").value();
    Job stood = job;
    stood.skirt.material.name = "ABS";
    stood.loads.stepping = Stepping::stood_on;
    const CarModel car = held_car(stood);
    const MountPlan plan = held_plan(stood, car);
    ASSERT_EQ(plan.holes.size(), 9U);
    double best = 1e9;
    for (int i = 0; i < 5; ++i) {
        const std::clock_t start = std::clock();
        const auto findings = holding_findings(stood, car, plan, Mends::leave);
        best = std::min(best, 1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
        EXPECT_GE(findings.size(), 13U);
    }
    RecordProperty("milliseconds", std::to_string(best));
    // The aim is 5 ms; this only stops it from growing out of all measure, where memory is checked too.
    EXPECT_LT(best, 200.0);
}

}  // namespace
}  // namespace sillwright::core
