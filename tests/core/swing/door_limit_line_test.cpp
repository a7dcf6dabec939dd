#include "core/swing/door_limit_line.h"

#include <gmock/gmock.h>

#include <random>

#include "tests/core/swing/swing_world.h"

// The door is a box, so that a point's distance to it is a closed form once the point
// is turned back by the door's angle.

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::millimetres;
using swing_world::by_hand;
using swing_world::ByHand;
using swing_world::k_deg;
using swing_world::k_opening_deg;
using swing_world::mm;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

const double k_slack = in_mm(k_line_slack);

double distance_to_box(const Vector3d& p, double bottom) {
    const Vector3d low(0, 0, bottom);
    const Vector3d high(1000, 30, bottom + 200);
    return (low - p).cwiseMax(p - high).cwiseMax(Vector3d::Zero()).norm();
}

/// The least distance of a point to the door over its swing, without sag. A step of 0.005 degrees at about a
/// metre moves the box by 0.09 mm, so that what is found may be too large by half of that, and no more.
constexpr double k_step_deg = 0.005;
constexpr double k_sampling_mm = 0.05;
double least_distance(const Vector3d& p, const Hinge& hinge, double bottom) {
    const ByHand motion = by_hand(hinge);
    double least = 1e9;
    for (double angle = 0.0; angle <= k_opening_deg; angle += k_step_deg) {
        const Vector3d back = motion.at + swing_world::turned(p - motion.at, motion.u, -angle * k_deg);
        least = std::min(least, distance_to_box(back, bottom));
    }
    return least;
}

/// What is asked for, 0.1 of paint, and the deviations; the sag's with the lever of the box's furthest corner.
double required_for(const Hinge& hinge, double bottom, double asked = 5.0) {
    double lever = 0.0;
    for (int corner = 0; corner < 8; ++corner) {
        const Vector3d p(corner & 1 ? 1000.0 : 0.0, corner & 2 ? 30.0 : 0.0, corner & 4 ? bottom + 200.0 : bottom);
        lever = std::max(lever, (p - by_hand(hinge).at).norm());
    }
    return asked + 0.1 + 2.0 * std::sqrt(0.25 + 0.36 + std::pow(0.5 * lever / 1000.0, 2));
}

/// The job with the same gap asked for shut and moving, so that one number governs everywhere.
Job one_gap(Job job) {
    job.limits.gap_shut = job.limits.gap_moving_edge;
    return job;
}

std::vector<DoorLimitLine> lines_of(const Job& job, double along, const SectionWindow& window, double step) {
    const CarModel car = swing_world::model_of(job);
    auto lines = door_limit_lines(job, car, millimetres(along), window, millimetres(step));
    EXPECT_TRUE(lines) << (lines ? "" : lines.error().message);
    return lines ? lines.value() : std::vector<DoorLimitLine>{};
}

TEST(DoorLimitLine, BelowAFlatHemOnAnUprightAxis) {
    const Job job = one_gap(swing_world::upright(140));
    const double required = required_for(*job.doors[0].hinge, 140);
    const auto lines = lines_of(job, 600, {{0, 60}, {200, 200}}, 10);
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_EQ(lines[0].door, "front door");
    EXPECT_EQ(in_mm(lines[0].along), 600.0);
    EXPECT_THAT(lines[0].missing, IsEmpty());
    ASSERT_EQ(lines[0].chains_mm.size(), 1U);
    ASSERT_EQ(lines[0].chains_mm[0].size(), 21U);
    double out = 0.0;
    for (const Vector2d& p : lines[0].chains_mm[0]) {
        EXPECT_NEAR(p.x(), out, 1e-9);
        out += 10.0;
        // The hem sweeps over all of this window at up 140.
        EXPECT_LE(p.y(), 140 - required + 1e-6);
        EXPECT_GE(p.y(), 140 - required - k_slack - 1e-6);
    }
}

TEST(DoorLimitLine, UnderTheShutDoorTheGapForShutCounts) {
    Job job = swing_world::upright(140);
    job.limits.gap_shut.value = millimetres(9);
    const auto lines = lines_of(job, 600, {{0, 60}, {200, 200}}, 10);
    ASSERT_EQ(lines.size(), 1U);
    const auto& chain = lines[0].chains_mm.at(0);
    // At out 10 the shut door, from 0 to 30, stands above; at 190 only the open one passes.
    EXPECT_NEAR(chain[1].y(), 140 - required_for(*job.doors[0].hinge, 140, 9.0), k_slack);
    EXPECT_NEAR(chain[19].y(), 140 - required_for(*job.doors[0].hinge, 140, 5.0), k_slack);
}

TEST(DoorLimitLine, OnALeaningAxisByTheBoxTurnedBack) {
    const Hinge hinge = swing_world::hinge(0, 3, 12);
    const Job job = one_gap(swing_world::job(swing_world::shelf(), swing_world::door(hinge, 150)));
    for (const double along : {350.0, 900.0}) {
        const auto lines = lines_of(job, along, {{0, 60}, {300, 260}}, 50);
        ASSERT_EQ(lines.size(), 1U);
        ASSERT_EQ(lines[0].chains_mm.size(), 1U);
        double before = 1e9;
        for (const Vector2d& p : lines[0].chains_mm[0]) {
            const double required = required_for(hinge, 150);
            const double found = least_distance({along, p.x(), p.y()}, hinge, 150);
            EXPECT_GE(found, required - 1e-6) << p.transpose();
            EXPECT_LE(found, required + k_slack + k_sampling_mm) << p.transpose();
            EXPECT_LT(p.y(), before + 1.0) << "the hem comes down as it swings out";
            before = p.y();
        }
    }
}

TEST(DoorLimitLine, AllThatStandsBelowItKeepsTheGap) {
    const Hinge hinge = swing_world::hinge(0, -2, 8);
    const Job job = one_gap(swing_world::job(swing_world::shelf(), swing_world::door(hinge, 150)));
    const SectionWindow window{{-60, 40}, {240, 300}};
    const auto lines = lines_of(job, 700, window, 20);
    ASSERT_EQ(lines.size(), 1U);
    std::mt19937 random(7);
    int looked_at = 0;
    for (const auto& chain : lines[0].chains_mm) {
        for (const Vector2d& p : chain) {
            const double part = std::uniform_real_distribution(0.0, 1.0)(random);
            const double up = window.low_mm.y() + part * (p.y() - window.low_mm.y());
            const double required = required_for(hinge, 150);
            EXPECT_GE(least_distance({700, p.x(), up}, hinge, 150), required - 1e-6) << p.transpose();
            ++looked_at;
        }
    }
    EXPECT_EQ(looked_at, 13);  // from out 0, where the shut door stands, to 240
}

TEST(DoorLimitLine, IsBrokenWhereNothingLimitsAndWhereTheWindowIsTooNear) {
    const Job job = swing_world::upright(140);
    // Inboard of the shut door nothing limits: its inner face stands at out 0.
    const auto lines = lines_of(job, 500, {{-100, 60}, {100, 160}}, 10);
    ASSERT_EQ(lines.size(), 1U);
    ASSERT_EQ(lines[0].chains_mm.size(), 1U);
    EXPECT_GT(lines[0].chains_mm[0].front().x(), -30.0);
    EXPECT_LE(lines[0].chains_mm[0].front().x(), 0.0);
    EXPECT_NEAR(lines[0].chains_mm[0].back().x(), 100.0, 1e-9);
    // The lower edge of this window is in the door already.
    EXPECT_THAT(lines_of(job, 500, {{0, 150}, {100, 200}}, 10)[0].chains_mm, IsEmpty());
    // Ahead of the door, out of its reach, there is no line.
    EXPECT_THAT(lines_of(job, -190, {{300, 60}, {400, 160}}, 20)[0].chains_mm, IsEmpty());
}

TEST(DoorLimitLine, CladdingNeedsItsOwnGap) {
    Job job = swing_world::upright(140);
    job.doors[0].bodies[0].kind = DoorBodyKind::cladding;
    const auto lines = lines_of(job, 600, {{0, 60}, {50, 200}}, 25);
    ASSERT_EQ(lines.at(0).chains_mm.size(), 1U);
    EXPECT_NEAR(lines[0].chains_mm[0][1].y(), 140 - required_for(*job.doors[0].hinge, 140, 8.0), k_slack + 1e-6);
}

TEST(DoorLimitLine, WhatIsNotMeasured) {
    Job job = swing_world::upright(140);
    job.survey_sd.reset();
    job.doors[0].sag.reset();
    const auto lines = lines_of(job, 600, {{0, 60}, {50, 200}}, 25);
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_THAT(lines[0].missing, Contains("standard deviation of the survey"));
    EXPECT_THAT(lines[0].missing, Contains("the sag of front door off its striker"));
    job.doors[0].opening.reset();
    EXPECT_THAT(lines_of(job, 600, {{0, 60}, {50, 200}}, 25), IsEmpty()) << "it cannot be swung";
    job = swing_world::upright(140);
    job.doors[0].bodies.clear();
    EXPECT_THAT(lines_of(job, 600, {{0, 60}, {50, 200}}, 25), IsEmpty()) << "there is nothing to swing";
}

TEST(DoorLimitLine, AWindowWithoutSizeIsRefused) {
    const Job job = swing_world::upright(140);
    const CarModel car = swing_world::model_of(job);
    const auto refused = [&](const SectionWindow& window, double step) {
        const auto lines = door_limit_lines(job, car, millimetres(600), window, millimetres(step));
        return !lines && lines.error().code == geometry::ErrorCode::invalid_argument;
    };
    EXPECT_TRUE(refused({{0, 60}, {0, 200}}, 10));
    EXPECT_TRUE(refused({{0, 200}, {50, 200}}, 10));
    EXPECT_TRUE(refused({{0, 60}, {50, 200}}, 0));
    EXPECT_TRUE(refused({{0, 60}, {50, 200}}, std::nan("")));
}

TEST(DoorLimitLine, WindowAboutTheSkirt) {
    const CarModel car = swing_world::model_of(swing_world::upright(140));
    const SectionWindow window = window_about(car, millimetres(500));
    EXPECT_LT(window.low_mm.x(), -300.0);  // The shelf runs from out -300 to 1300, at up 100.
    EXPECT_LT(window.low_mm.y(), 100.0);
    EXPECT_GT(window.high_mm.x(), 1300.0);
    EXPECT_GT(window.high_mm.y(), 140.0);
    const SectionWindow beside = window_about(car, millimetres(5000));
    EXPECT_GT(beside.high_mm.x(), beside.low_mm.x());
    EXPECT_GT(beside.high_mm.y(), beside.low_mm.y());
}

}  // namespace
}  // namespace sillwright::core
