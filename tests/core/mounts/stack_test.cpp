#include "core/mounts/stack.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/forming/hand_formed.h"
#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;

// By hand: panel 0.8 + spacer 2 + sheet 3 + paint 0.12; deviations 0.03, 0, 0.15, 0.018.
TEST(Stack, SumAndRootOfSquares) {
    const Job job = flat_world();
    const Stack stack = stack_of(job, job.mounts[0], job.skirt.pieces[0]);
    EXPECT_NEAR(in_mm(stack.thickness), 5.92, 1e-12);
    EXPECT_NEAR(in_mm(stack.half_width), 2 * std::sqrt(0.0009 + 0.0225 + 0.000324), 1e-12);
    EXPECT_TRUE(stack.missing.empty());
    EXPECT_EQ(stack.inputs.size(), 5U);
}

TEST(Stack, WhatIsMissingIsNamedAndLeftOut) {
    Job job = flat_world();
    job.mounts[0].panel_thickness.reset();
    job.mounts[0].fastener.spacer.reset();
    job.skirt.paint.reset();
    const Stack stack = stack_of(job, job.mounts[0], job.skirt.pieces[0]);
    EXPECT_NEAR(in_mm(stack.thickness), 3.0, 1e-12);
    EXPECT_EQ(stack.missing.size(), 2U);
}

// By hand: panel 0.8 + spacer 2 + six tenths of the sheet of 3 + paint 0.12; deviations 0.03, 0, 0.09, 0.018.
TEST(Stack, TakesTheFlangeAsItIsFormed) {
    const Job job = flat_world();
    auto car = car_model(job, ".").value();
    car.pieces[0].formed = hand_formed(1.0, 2.0);
    const Stack stack = stack_of(job, job.mounts[0], job.skirt.pieces[0], &car.pieces[0]);
    EXPECT_NEAR(in_mm(stack.thickness), 4.72, 1e-12);
    EXPECT_NEAR(in_mm(stack.half_width), 2 * std::sqrt(0.0009 + 0.0081 + 0.000324), 1e-12);
    EXPECT_EQ(stack.inputs[2].name, "flange as formed, computed");
    const Finding* const grip = find(reach_findings(job, car), "mounts/H1/grip");
    ASSERT_NE(grip, nullptr);
    EXPECT_NEAR(*grip->found, 4.72, 1e-12);
}

}  // namespace
}  // namespace sillwright::core
