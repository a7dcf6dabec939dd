#include "core/road/end_gap.h"

#include <gtest/gtest.h>

#include <tuple>

#include "core/drawn_loft.h"
#include "core/edit/mend_edit.h"
#include "tests/core/mounts/flange_world.h"

// The part runs from 0 to 1500 mm along the car; ABS grows by 90e-6/K, steel by 12e-6/K.

namespace sillwright::core {
namespace {

using geometry::celsius;

struct Made {
    Job job;
    CarModel car;
    MountPlan plan;
};

Made made(double locator_mm, double front_gap, double rear_gap) {
    Made m;
    m.job = flat_world();
    m.job.skirt.material.expansion_per_k = 90e-6;
    m.job.fitting.body_material = "steel";
    m.job.fitting.hot = Warmth{celsius(80), celsius(40), {}};
    m.job.fitting.cold = Warmth{celsius(-20), celsius(-20), {}};
    m.job.fitting.fitted = Warmth{celsius(20), celsius(20), {}};
    m.job.fitting.front_gap = mm(front_gap);
    m.job.fitting.rear_gap = mm(rear_gap);
    PieceModel piece;
    piece.name = "skirt";
    piece.line = loft_of(m.job, m.job.skirt.pieces[0].drawn, false, "skirt").value();
    m.car.pieces.push_back(std::move(piece));
    HolePlan locator;
    locator.mount = "H1";
    locator.role = HoleRole::locator;
    locator.landing.p_mm = {locator_mm, 130, 10};
    m.plan.holes.push_back(locator);
    m.plan.locator = "H1";
    return m;
}

Finding finding_of(const Made& m, const std::string& id) {
    const auto findings = end_gap_findings(m.job, m.car, m.plan);
    EXPECT_EQ(findings.size(), 4U);
    const Finding* found = find(findings, id);
    EXPECT_NE(found, nullptr) << id;
    return found != nullptr ? *found : Finding{};
}

// By hand: hot (80 part, 40 body) 90e-6 · 60 - 12e-6 · 20 = 0.00516; cold (-20 both) -0.00312. Of 500 mm to the
// front 2.58 and -1.56, of 1000 mm to the rear 5.16 and -3.12.
TEST(EndGap, IsTheDrawnOneLessTheGrowthFromTheLocator) {
    const Made m = made(500, 5, 8);
    EXPECT_NEAR(*finding_of(m, "mounts/front end gap").found, 5 - 2.58, 1e-9);
    EXPECT_NEAR(*finding_of(m, "mounts/front end gap widest").found, 5 + 1.56, 1e-9);
    EXPECT_NEAR(*finding_of(m, "mounts/rear end gap").found, 8 - 5.16, 1e-9);
    EXPECT_NEAR(*finding_of(m, "mounts/rear end gap widest").found, 8 + 3.12, 1e-9);
    EXPECT_EQ(finding_of(m, "mounts/rear end gap widest").state, State::falls_short);
    EXPECT_EQ(finding_of(m, "mounts/rear end gap").state, State::close);
    EXPECT_EQ(finding_of(m, "mounts/front end gap widest").state, State::holds);
}

// The trade's rule: g(T) = g20 - a L (T - 20), with the difference of the two expansions where both are as warm.
TEST(EndGap, TableForTheFittingSheet) {
    const Made m = made(500, 5, 8);
    const auto table = fitting_gaps(m.job, m.car, m.plan);
    ASSERT_EQ(table.size(), 12U);
    for (const FittingGap& row : table) {
        const double t = geometry::in_celsius(row.at);
        EXPECT_NEAR(*row.front_mm, 5 - 78e-6 * 500 * (t - 20), 1e-9) << t;
        EXPECT_NEAR(*row.rear_mm, 8 - 78e-6 * 1000 * (t - 20), 1e-9) << t;
    }
    EXPECT_EQ(geometry::in_celsius(table.front().at), -30.0);
    EXPECT_EQ(geometry::in_celsius(table.back().at), 80.0);
}

// The locator behind the part's rear end: growth from it carries that end forward, away from what is beside it.
TEST(EndGap, AnEndOnTheOtherSideOfTheLocatorMovesTheOtherWay) {
    const Made m = made(1600, 20, 8);
    EXPECT_NEAR(*finding_of(m, "mounts/rear end gap widest").found, 8 + 0.516, 1e-9);
}

TEST(EndGap, ExactlyTheLimitHolds) {
    Made m = made(500, 5, 8);
    m.job.fitting.hot->part = m.job.fitting.hot->body = celsius(20);
    m.job.road.end_gap_least = mm(5);
    const Finding finding = finding_of(m, "mounts/front end gap");
    EXPECT_EQ(*finding.margin, 0.0);
    EXPECT_NE(finding.state, State::falls_short);
}

TEST(EndGap, MendsAreTakenAndHold) {
    for (const auto& [id, front, rear] :
         {std::tuple{"mounts/front end gap", 3.0, 6.0}, std::tuple{"mounts/rear end gap", 6.0, 5.0},
          std::tuple{"mounts/front end gap widest", 13.0, 6.0}, std::tuple{"mounts/rear end gap widest", 5.0, 9.0}}) {
        Made m = made(500, front, rear);
        const Finding finding = finding_of(m, id);
        ASSERT_EQ(finding.state, State::falls_short) << id;
        ASSERT_TRUE(finding.mend && finding.mend->can_be_taken()) << id;
        const auto taken = take_mend(m.job, finding);
        ASSERT_TRUE(taken.has_value()) << taken.error().message;
        m.job = taken.value().job;
        const Finding after = finding_of(m, id);
        EXPECT_GE(*after.margin, 0.0) << id;
        EXPECT_LT(*after.margin, 0.1) << id;
        EXPECT_NEAR(*after.margin, *finding.mend->proven_margin, 1e-12) << id;
    }
}

TEST(EndGap, WhereNoGapIsSmallEnoughTheLocatorMustMove) {
    Made m = made(1450, 3, 6);
    m.job.fitting.cold = Warmth{celsius(-40), celsius(60), {}};
    const Finding finding = finding_of(m, "mounts/front end gap widest");
    ASSERT_EQ(finding.state, State::falls_short);
    ASSERT_TRUE(finding.mend);
    EXPECT_TRUE(finding.mend->can_be_taken());  // 1450 · 0.00588 = 8.5 mm: a gap of 1.4 would do, cold.
    EXPECT_NE(finding.mend->words.find("locator"), std::string::npos);
    m.job.fitting.cold = Warmth{celsius(-60), celsius(60), {}};
    m.job.road.end_gap_most = mm(9);
    EXPECT_FALSE(finding_of(m, "mounts/front end gap widest").mend->can_be_taken());
}

TEST(EndGap, WhatIsMissingIsNamed) {
    Made m = made(500, 5, 8);
    m.job.fitting.front_gap.reset();
    const Finding finding = finding_of(m, "mounts/front end gap");
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_FALSE(finding.found);
    EXPECT_EQ(finding.missing.size(), 1U);
    m = made(500, 1, 8);
    m.job.fitting.hot.reset();
    m.plan.holes.clear();
    const Finding narrow = finding_of(m, "mounts/front end gap");
    EXPECT_EQ(narrow.state, State::falls_short) << "as drawn it is too narrow already";
    EXPECT_EQ(narrow.missing.size(), 3U);
    EXPECT_EQ(finding_of({}, "mounts/front end gap").state, State::not_measured);
}

}  // namespace
}  // namespace sillwright::core
