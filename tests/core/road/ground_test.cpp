#include "core/road/ground.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "tests/core/road/road_world.h"

namespace sillwright::core {
namespace {

using geometry::in_deg;
using geometry::in_mm;
using geometry::millimetres;
using road_world::expect_mend_taken;
using road_world::job_of;
using road_world::k_outside_mm;
using road_world::k_twice_sd_mm;
using road_world::mm;
using testing::Contains;
using testing::HasSubstr;

std::vector<Finding> all(const Job& job, const CarModel& car) {
    return ground_findings(job, car);
}

Finding finding_of(const Job& job, const std::string& what) {
    return road_world::finding_of(job, all, "mounts/road/" + what);
}

/// The lowest of the plain section: see low_line_test.cpp.
double lowest_mm() {
    const double half = 0.5 * (std::numbers::pi / 2.0 + std::atan2(20.0, 60.0));
    return 150.0 + 6.0 * std::tan(half) - 6.0 - k_outside_mm;
}

// Source: calculator.7search.cc, breakover page: 2 atan(2 GC / WB). Of its two examples it prints 27.04 degrees for
// GC 12, WB 100: a misprint, 2 atan(0.24) is 26.991; 28.07 for 15, 120 is right. The other two are computed anew.
TEST(Breakover, PublishedExamplesOfTheMiddleAndTheMisprint) {
    const auto of = [](double wheelbase, double height) {
        return in_deg(breakover_of_middle(millimetres(height), millimetres(wheelbase)));
    };
    EXPECT_NEAR(of(100, 12), 26.991, 0.0005);
    EXPECT_GT(std::abs(of(100, 12) - 27.04), 0.04);
    EXPECT_NEAR(of(120, 15), 28.072, 0.0005);
    EXPECT_NEAR(of(2600, 150), 13.164, 0.0005);
    EXPECT_NEAR(of(2700, 120), 10.159, 0.0005);
}

TEST(Breakover, TwoTyresAPointAnywhereBetween) {
    // By hand: atan(150/1000) + atan(150/1600) = 8.531 + 5.356.
    EXPECT_NEAR(in_deg(breakover(millimetres(150), millimetres(1000), millimetres(1600))), 13.887, 0.0005);
    for (const double h : {10.0, 120.0, 300.0}) {
        EXPECT_NEAR(in_deg(breakover(millimetres(h), millimetres(1300), millimetres(1300))),
                    in_deg(breakover_of_middle(millimetres(h), millimetres(2600))), 1e-12);
    }
}

TEST(Breakover, RollingOverACrestGivesMoreThanTheContactLines) {
    const auto h = millimetres(150);
    const auto a = millimetres(1000);
    const auto b = millimetres(1600);
    EXPECT_GT(rolling_breakover(h, a, b, millimetres(310)), breakover(h, a, b));
    EXPECT_NEAR(in_deg(rolling_breakover(h, a, b, millimetres(1e-9))), in_deg(breakover(h, a, b)), 1e-9);
}

TEST(TyreAngle, TouchesTheTyresCircle) {
    // By hand: r 300, d 700, h 200: -8.1301 + 25.1041 degrees; that line passes 300 from the centre.
    const auto angle = tyre_angle(millimetres(700), millimetres(200), millimetres(300));
    EXPECT_NEAR(in_deg(angle), 16.974, 0.0005);
    const double slope = in_rad(angle);
    const double from_centre = std::abs(-std::sin(slope) * 700.0 + std::cos(slope) * (200.0 - 300.0));
    EXPECT_NEAR(from_centre, 300.0, 1e-9);
}

TEST(GroundFindings, ClearanceLadenAndOnTheBumpStops) {
    const Finding laden = finding_of(job_of(), "clearance");
    EXPECT_NEAR(laden.found.value_or(0.0), lowest_mm() - 20.0, 1e-6);
    EXPECT_NEAR(laden.required.value_or(0.0), 110.0 + k_twice_sd_mm, 1e-9);
    EXPECT_EQ(laden.state, State::holds);
    EXPECT_EQ(laden.stage, Stage::mounts);
    const Finding bump = finding_of(job_of(), "bump clearance");
    EXPECT_NEAR(bump.found.value_or(0.0), lowest_mm() - 70.0, 1e-6);
    EXPECT_NEAR(bump.required.value_or(0.0), 30.0 + k_twice_sd_mm, 1e-9);
    EXPECT_EQ(bump.state, State::holds);
}

TEST(GroundFindings, TheBodyWithoutThePartIsToldBeside) {
    Job job = job_of();
    for (const std::string n : {"1", "4"}) {
        job.body.sections.push_back({n,
                                     {{"b" + n + "a", "sill outer", mm(60), mm(250), mm(0), {}},
                                      {"b" + n + "b", "pinch outer tip", mm(30), mm(145), mm(0), {}},
                                      {"b" + n + "c", "floor edge", mm(0), mm(190), mm(0), {}}},
                                     {}});
    }
    const Finding laden = finding_of(job, "clearance");
    EXPECT_THAT(laden.inputs, Contains(Input{"of the body without the part", "125.00 mm"}));
    EXPECT_THAT(laden.why, HasSubstr("the body alone has 125.00 mm"));
}

TEST(GroundFindings, BreakoverIsThatOfTheWorstPointBetweenTheWheels) {
    const Finding finding = finding_of(job_of(), "breakover");
    // All along at one height, the worst place is half-way between the wheels: 1200 from each, 800 along.
    const double h = lowest_mm() - 20.0;
    EXPECT_NEAR(finding.found.value_or(0.0), 2.0 * std::atan(h / 1200.0) * 180.0 / std::numbers::pi, 1e-3);
    EXPECT_NEAR(in_mm(finding.place.along.value_or(geometry::Length{})), 800.0, 20.0);
    EXPECT_EQ(finding.unit, Unit::deg);
    const double unsure = 2.0 * k_twice_sd_mm * 1200.0 / (1200.0 * 1200.0 + h * h) * 180.0 / std::numbers::pi;
    EXPECT_NEAR(finding.required.value_or(0.0), 10.0 + unsure, 1e-4);
    EXPECT_THAT(finding.inputs, Contains(testing::Field(&Input::name, HasSubstr("rolling"))));
}

TEST(GroundFindings, ASideSkirtTakesNothingFromApproach) {
    const Finding finding = finding_of(job_of(), "approach");
    EXPECT_EQ(finding.state, State::holds);
    EXPECT_FALSE(finding.found);
    EXPECT_THAT(finding.why, HasSubstr("ahead of the front wheel"));
    // One that reaches ahead of the wheel is held against the tyre's tangent.
    Job job = job_of();
    job.road.front_wheel = mm(400);
    const Finding ahead = finding_of(job, "approach");
    const double h = lowest_mm() - 20.0;
    EXPECT_NEAR(ahead.found.value_or(0.0), in_deg(tyre_angle(millimetres(400), millimetres(h), millimetres(300))),
                1e-6);
}

TEST(GroundFindings, WhatHangsTooLowIsRaised) {
    const auto hanging = [](std::size_t i, std::vector<road_world::Corner>& corners) {
        corners[3].up = i == 1 || i == 2 ? 120.0 : 150.0;
    };
    const Job low = job_of(hanging);
    expect_mend_taken(low, all, "mounts/road/clearance", 0.01);
    Job on_stops = low;
    on_stops.road.bump = mm(90);
    expect_mend_taken(on_stops, all, "mounts/road/bump clearance", 0.01);
    Job ramp = low;
    ramp.road.breakover_least = geometry::degrees(10.5);
    expect_mend_taken(ramp, all, "mounts/road/breakover", 0.01);
    const Finding finding = finding_of(low, "clearance");
    EXPECT_THAT(finding.mend->words, HasSubstr("lower edge"));
    EXPECT_THAT(finding.mend->words, HasSubstr("higher"));
    Job ahead = job_of();
    ahead.road.front_wheel = mm(800);
    ahead.road.rear_wheel = mm(4000);
    ahead.road.tyre_radius = mm(60);
    expect_mend_taken(ahead, all, "mounts/road/approach", 0.01);
}

TEST(GroundFindings, AFlangeThatHangsTooLowHasWordsOnly) {
    Job job = job_of();
    job.road.clearance_least = mm(170);
    const Finding finding = finding_of(job, "clearance");
    EXPECT_EQ(finding.state, State::falls_short);
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());
    EXPECT_FALSE(finding.mend->words.empty());
}

TEST(GroundFindings, WhatIsNotMeasuredIsListedAndNeverZero) {
    Job job = job_of();
    job.road.ground.reset();
    const Finding clearance = finding_of(job, "clearance");
    EXPECT_EQ(clearance.state, State::not_measured);
    EXPECT_FALSE(clearance.found);
    EXPECT_THAT(clearance.missing, Contains(HasSubstr("ground")));
    job = job_of();
    job.road.laden_drop.reset();
    EXPECT_EQ(finding_of(job, "clearance").state, State::not_measured);
    job = job_of();
    job.road.rear_wheel.reset();
    EXPECT_EQ(finding_of(job, "breakover").state, State::not_measured);
    EXPECT_EQ(finding_of(job, "approach").state, State::not_measured);
}

}  // namespace
}  // namespace sillwright::core
