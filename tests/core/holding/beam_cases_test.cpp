#include "core/holding/beam_cases.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "tests/core/holding/holding_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::in_newtons;
using geometry::millimetres;
using geometry::newtons;

PartBeam part_of(const Job& job) {
    const CarModel car = held_car(job);
    auto part = part_beam(job, car, held_plan(job, car), 0);
    EXPECT_TRUE(part) << (part ? "" : part.error().message);
    return std::move(part).value();
}

/// A point load that acts at a place of the section.
LoadCase point(LoadWay way, double along, double n, double out, double up) {
    LoadCase one{"point", LoadKind::foot, way, false, {}, {}, {}};
    one.loads.points.push_back({millimetres(along), newtons(n)});
    one.points_at.push_back({{out, up}});
    return one;
}

TEST(BeamCases, TakesArmsFromTheFlange) {
    const Job job = held_job();
    const PartBeam part = part_of(job);
    ASSERT_EQ(part.held_by.size(), 5U);
    // The clip stands at out 55; the flange ends at out 35, its drawn rounding of 6 at the root (out 75) turns little.
    EXPECT_NEAR(part.held_by[2].free_arm_mm, 20.0, 1e-6);
    EXPECT_NEAR(part.held_by[2].heel_arm_mm, 20.0, 0.5);
    EXPECT_FALSE(part.held_by[2].top_arm_mm);
    Job taped = job;
    taped.skirt.pieces[0].top_edge = TopEdgeFixing::tape;
    EXPECT_NEAR(*part_of(taped).held_by[2].top_arm_mm, 118 - 15, 1e-6);
}

// Statics by hand on the section of held_world: 100 N down at out 115 over a clip at out 55: moment 100 · 60, arm 20.
TEST(BeamCases, ALoadOutboardLeversTheClipOut) {
    const Job job = held_job();
    const PartBeam part = part_of(job);
    const BeamAnswer down = answer(part, point(LoadWay::down, 900, 100, 115, 118)).value();
    EXPECT_NEAR(down.state.reactions_n()[2], 100, 1e-9);
    EXPECT_NEAR(down.moment_n_mm[2], 6000, 1e-9);
    EXPECT_NEAR(down.pull_n[2], 100 + 6000 / 20.0, 1e-6);
    EXPECT_NEAR(down.pull_n[0], 0.0, 1e-9);
    // Upward it presses the flange to its seat, and levers about the heel; nothing is taken off.
    const BeamAnswer up = answer(part, point(LoadWay::down, 900, -100, 115, 118)).value();
    EXPECT_NEAR(up.pull_n[2], 6000 / part.held_by[2].heel_arm_mm, 1e-6);
    // Inward against the face at up 60, 45 over the flange: the top goes in, about the heel.
    const BeamAnswer in = answer(part, point(LoadWay::outward, 900, -100, 150, 60)).value();
    EXPECT_NEAR(in.moment_n_mm[2], -4500, 1e-6);
    EXPECT_NEAR(in.pull_n[2], 4500 / part.held_by[2].heel_arm_mm, 1e-6);
}

TEST(BeamCases, AFixedTopEdgeTakesTheCouple) {
    Job job = held_job();
    job.skirt.pieces[0].top_edge = TopEdgeFixing::screw;
    const BeamAnswer down = answer(part_of(job), point(LoadWay::down, 900, 100, 115, 118)).value();
    EXPECT_NEAR(down.pull_n[2], 100, 1e-9);
    EXPECT_NEAR(down.top_n[2], 6000 / 103.0, 1e-6);
}

TEST(BeamCases, BetweenTwoClipsTheLeverSharesTheMoment) {
    const PartBeam part = part_of(held_job());
    const BeamAnswer one = answer(part, point(LoadWay::down, 1000, 100, 115, 118)).value();
    EXPECT_NEAR(one.moment_n_mm[2], 0.75 * 6000, 1e-9);
    EXPECT_NEAR(one.moment_n_mm[3], 0.25 * 6000, 1e-9);
    const BeamAnswer end = answer(part, point(LoadWay::down, 1790, 100, 115, 118)).value();
    EXPECT_NEAR(end.moment_n_mm[4], 6000, 1e-9);
}

// Every load is carried: reactions add up to it, moments about along to its moment about the line of clips.
TEST(BeamCases, AreInBalance) {
    Job job = held_job();
    job.loads.stepping = Stepping::stood_on;
    const PartBeam part = part_of(job);
    const auto cases = load_cases(job.loads, 1050, part.sections, part.places);
    EXPECT_GT(cases.size(), 20U);
    for (const LoadCase& load : cases) {
        SCOPED_TRACE(load.name);
        const BeamAnswer does = answer(part, load).value();
        double force = 0.0;
        double moment = 0.0;
        const auto take = [&](double n, const LoadPoint& at) {
            force += n;
            moment += n * (load.way == LoadWay::down ? at.p_mm.x() - 55 : at.p_mm.y() - 15);
        };
        for (std::size_t k = 0; k < load.loads.spread.size(); ++k) {
            const auto& one = load.loads.spread[k];
            take(one.n_per_mm * in_mm(one.to - one.from), load.spread_at[k]);
        }
        for (std::size_t k = 0; k < load.loads.points.size(); ++k) {
            take(in_newtons(load.loads.points[k].force), load.points_at[k]);
        }
        const auto sum = [](const std::vector<double>& values) {
            return std::accumulate(values.begin(), values.end(), 0.0);
        };
        EXPECT_NEAR(sum(does.state.reactions_n()), force, 1e-9 * (1 + std::abs(force)));
        EXPECT_NEAR(sum(does.moment_n_mm), moment, 1e-6 * (1 + std::abs(moment)));
        EXPECT_TRUE(std::all_of(does.pull_n.begin(), does.pull_n.end(), [](double n) { return n >= 0.0; }));
        EXPECT_GE(does.deflection_mm_mpa, 0.0);
    }
}

// The same section all along: the beam's deflection is that of the principal axes, each for itself, put together.
TEST(BeamCases, BendsAsItsPrincipalAxesDo) {
    const PartBeam part = part_of(held_job());
    const BeamAnswer found = answer(part, point(LoadWay::down, 700, 100, 110, 118)).value();
    const auto& moments = part.sections[4].moments;
    const auto principal = moments.principal();
    const double a = geometry::in_rad(principal.axis);
    std::vector<geometry::BeamSupport> supports;
    for (const HeldBy& one : part.held_by) {
        supports.push_back({millimetres(one.p_mm.x()), std::nullopt, false});
    }
    const auto bend = [&](double second, double share) {
        const auto beam =
            geometry::ContinuousBeam::make({{millimetres(0), millimetres(1800), second}}, supports).value();
        return beam.under({{}, {{millimetres(700), newtons(100 * share)}}}).value().deflection_mm(millimetres(700));
    };
    const double first = bend(principal.greatest_mm4, std::cos(a));
    const double second = bend(principal.least_mm4, std::sin(a));
    const double down = first * std::cos(a) + second * std::sin(a);
    EXPECT_NEAR(found.state.deflection_mm(millimetres(700)), down, 1e-6 * std::abs(down));
    EXPECT_NEAR(std::hypot(1.0, part.sideways(LoadWay::down)) * down, std::hypot(first, second),
                1e-6 * std::hypot(first, second));
}

TEST(BeamCases, GiveNumbersThatCanBeDrawn) {
    Job job = held_job();
    const CarModel car = held_car(job);
    const MountPlan plan = held_plan(job, car);
    const auto cases = beam_cases(job, car, plan);
    ASSERT_FALSE(cases.empty());
    for (const BeamCase& one : cases) {
        EXPECT_EQ(one.piece, "skirt");
        ASSERT_EQ(one.mounts.size(), 5U);
        ASSERT_GT(one.curve_mm.size(), 50U);
        EXPECT_NEAR(one.curve_mm.front().x(), 0, 1e-9);
        EXPECT_NEAR(one.curve_mm.back().x(), 1800, 1e-9);
        double most = 0.0;
        for (const auto& p : one.curve_mm) {
            most = std::max(most, std::abs(p.y()));
        }
        EXPECT_LE(most, *one.deflection_mm * (1 + 1e-9));
    }
    job.skirt.material = {};
    for (const BeamCase& one : beam_cases(job, car, plan)) {
        EXPECT_TRUE(one.curve_mm.empty());
        EXPECT_FALSE(one.strain);
    }
}

TEST(BeamCases, NeedTwoFasteners) {
    Job job = held_job();
    job.mounts.resize(1);
    const CarModel car = held_car(job);
    const auto part = part_beam(job, car, held_plan(job, car), 0);
    ASSERT_FALSE(part);
    EXPECT_EQ(part.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_TRUE(beam_cases(job, car, held_plan(job, car)).empty());
}

}  // namespace
}  // namespace sillwright::core
