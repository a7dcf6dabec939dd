#include "core/road/low_line.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/core/forming/hand_formed.h"
#include "tests/core/road/road_world.h"

// Expected numbers: parallels of corners by hand.

namespace sillwright::core {
namespace {

using road_world::job_of;
using road_world::k_outside_mm;
using road_world::mm;
using road_world::model_of;

constexpr double k_rounding = 1e-9;

std::optional<LowestOfSection> lowest(const std::vector<geometry::ProfileNode>& nodes, double left, double right) {
    std::vector<std::string> names(nodes.size(), "node");
    return lowest_of_section(nodes, names, left, right);
}

TEST(LowestOfSection, OfAVRoundedAtItsFoot) {
    // Down and up again at 45 degrees: left of the way is outside of the turn for the other face.
    const std::vector<geometry::ProfileNode> v{{{0, 100}, {}}, {{100, 0}, geometry::millimetres(10)}, {{200, 100}, {}}};
    // The rounding's middle stands r sqrt 2 above the corner; it turns left, so the right face is further out.
    const double middle = 10.0 * std::numbers::sqrt2;
    EXPECT_NEAR(lowest(v, 0.0, 0.0)->p_mm.y(), middle - 10.0, k_rounding);
    EXPECT_NEAR(lowest(v, 0.0, -3.0)->p_mm.y(), middle - 13.0, k_rounding);
    EXPECT_NEAR(lowest(v, 4.0, 4.0)->p_mm.y(), middle - 6.0, k_rounding);
    // Where nothing of the rounding is left, the two parallels meet in a point.
    EXPECT_NEAR(lowest(v, 12.0, 12.0)->p_mm.y(), 12.0 * std::numbers::sqrt2, k_rounding);
    EXPECT_EQ(lowest(v, 0.0, 0.0)->node, 1U);
}

TEST(LowestOfSection, OfASharpCornerAndOfAnEnd) {
    const std::vector<geometry::ProfileNode> v{{{0, 100}, {}}, {{100, 0}, {}}, {{200, 100}, {}}};
    EXPECT_NEAR(lowest(v, 0.0, -3.0)->p_mm.y(), -3.0, k_rounding);
    const std::vector<geometry::ProfileNode> down{{{0, 100}, {}}, {{30, 60}, {}}};
    // Square end: 3 to the right of (0.6, -0.8) is 3 (-0.8, -0.6).
    EXPECT_NEAR(lowest(down, 0.0, -3.0)->p_mm.y(), 60.0 - 1.8, k_rounding);
    EXPECT_EQ(lowest(down, 0.0, -3.0)->node, 1U);
}

TEST(LowLine, OfAPartThatIsTheSameAllAlong) {
    const Job job = job_of();
    const LowLine line = low_line_of_part(job, model_of(job));
    // The corner turns from down to up and inwards, 108.43 degrees; its lowest place is the foot of its rounding.
    const double half = 0.5 * (std::numbers::pi / 2.0 + std::atan2(20.0, 60.0));  // Of the turn.
    const double centre_up = 150.0 + 6.0 * std::tan(half);
    for (const LowPoint& point : line.points) {
        EXPECT_NEAR(point.p_mm.z(), centre_up - 6.0 - k_outside_mm, 1e-6);
        EXPECT_EQ(point.node, "lower edge");
    }
    EXPECT_NEAR(line.bound_mm, 0.0, 1e-9);
    EXPECT_GE(line.points.size(), 75U);
    EXPECT_TRUE(line.missing.empty());
}

TEST(LowLine, NothingBetweenSectionsIsLowerThanItSays) {
    const Job job = job_of([](std::size_t i, std::vector<road_world::Corner>& corners) {
        corners[3].up = i == 1 ? 120.0 : 150.0;  // Hangs down at the second station.
    });
    const CarModel car = model_of(job);
    const LowLine line = low_line_of_part(job, car);
    EXPECT_GT(line.bound_mm, 0.0);
    EXPECT_LT(line.bound_mm, 0.2);
    // Between two of them, looked at a hundred times as closely.
    for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
        const auto& a = line.points[i].p_mm;
        const auto& b = line.points[i + 1].p_mm;
        for (const double part : {0.1, 0.3, 0.5, 0.8}) {
            const auto nodes = car.pieces[0].line->nodes_at(geometry::millimetres(a.x() + part * (b.x() - a.x())));
            const auto there = lowest_of_section(nodes, car.pieces[0].line->names(), k_outside_mm, 0.0);
            ASSERT_TRUE(there);
            EXPECT_GE(there->p_mm.y(), a.z() + part * (b.z() - a.z()) - line.bound_mm - 1e-9) << a.x();
        }
    }
}

TEST(LowLine, OfAShapeFromAFile) {
    Job job = job_of();
    CarModel car = model_of(job);
    const double drawn = low_line_of_part(job, car).points.front().p_mm.z();
    job.skirt.pieces[0].file = ShapeFile{};
    const LowLine line = low_line_of_part(job, car);
    ASSERT_FALSE(line.points.empty());
    for (const LowPoint& point : line.points) {
        EXPECT_LE(point.p_mm.z(), drawn + 1e-9);
        EXPECT_GE(point.p_mm.z(), drawn - 2.0 * in_mm(k_check_deviation));
    }
}

TEST(LowLine, WhatIsNotMeasuredIsListed) {
    Job job = job_of();
    job.skirt.paint.reset();
    EXPECT_EQ(low_line_of_part(job, model_of(job)).missing, std::vector<std::string>{"paint film on the part"});
    EXPECT_TRUE(low_line_of_body(model_of(job)).points.empty());
}

// By hand: the foot of the lower edge's rounding, of six tenths of the sheet and its paint.
TEST(LowLine, OfAPartAsItIsFormed) {
    const Job job = job_of();
    CarModel car = model_of(job);
    car.pieces[0].formed = hand_formed(2.0, 2.9);
    const LowLine line = low_line_of_part(job, car);
    const double half = 0.5 * (std::numbers::pi / 2.0 + std::atan2(20.0, 60.0));
    const double truth = 150.0 + 6.0 * std::tan(half) - 6.0 - 1.9;
    ASSERT_FALSE(line.points.empty());
    for (const LowPoint& point : line.points) {
        EXPECT_LE(point.p_mm.z(), truth + 1e-9);
        EXPECT_GE(point.p_mm.z(), truth - 2.0 * k_low_fit_mm);
        EXPECT_EQ(point.node, "lower edge");
    }
}

}  // namespace
}  // namespace sillwright::core
