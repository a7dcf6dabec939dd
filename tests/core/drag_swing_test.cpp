#include "core/drag_swing.h"

#include <gtest/gtest.h>

#include "tests/core/swing/swing_world.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::millimetres;

/// A flat shelf at up 103 below a box with its hem at up 115: a gap of 12 wherever the shelf is as it was.
TEST(DragSwing, TellsTheGapOfAFlatShelfUnderAFlatHem) {
    const Job job = swing_world::upright(115);
    CarModel car = swing_world::model_of(job);
    const auto report = check_swing(job, car);
    ASSERT_TRUE(report);
    const geometry::Loft line = *car.pieces[0].line;
    auto made = DragShape::begin(job.skirt.pieces[0], line, "shelf edge", 2, millimetres(0.1));
    ASSERT_TRUE(made);
    DragShape shape = std::move(made).value();
    car.pieces[0].body = shape.body();
    auto begun = DragSwing::begin(job, car, nullptr, 0, shape, report.value().outcomes);
    ASSERT_TRUE(begun);
    DragSwing swing = std::move(begun).value();
    const auto pairs = swing_pairs(job, car, 0, nullptr);
    ASSERT_EQ(pairs.size(), 1U);
    using enum SwingCase;
    for (const double by : {0.0, -2.0, 3.0, -20.0}) {  // The edge, 1300 out, is raised: at the door the shelf leans.
        const Vector2d p(1300, 100 + by);
        const auto moved = line.moved("shelf edge", 2, p);
        ASSERT_TRUE(moved);
        ASSERT_TRUE(shape.to(job.skirt.pieces[0], moved.value().loft, moved.value().changed, p));
        car.pieces[0].body = shape.body();
        swing.moved();
        for (const SwingCase which : {moving, released, striker, over_slam}) {
            const auto outcome = swing.tell(pairs[0], which);
            ASSERT_TRUE(outcome);
            ASSERT_TRUE(outcome.value());
            // The same question to the whole search on the same mesh.
            const auto whole = swing_outcome(car, pairs[0], which, {});
            ASSERT_TRUE(whole);
            const double least = in_mm(whole.value()->distance.least);
            EXPECT_LE(in_mm(outcome.value()->distance.proven), least);
            EXPECT_GE(in_mm(outcome.value()->distance.proven), least - in_mm(k_drag_tolerance) - 1e-9);
            EXPECT_EQ(outcome.value()->at_stop.has_value(), which == moving);
            if (by == 0.0) {
                EXPECT_NEAR(in_mm(outcome.value()->distance.proven), 12.0, in_mm(k_drag_tolerance) + 1e-9);
            }
        }
    }
}

TEST(DragSwing, SaysNothingOfAMotionThatIsNotMeasured) {
    Job job = swing_world::upright(115);
    job.doors[0].over_slam.reset();
    CarModel car = swing_world::model_of(job);
    auto made = DragShape::begin(job.skirt.pieces[0], *car.pieces[0].line, "shelf edge", 2, millimetres(0.1));
    ASSERT_TRUE(made);
    const DragShape shape = std::move(made).value();
    car.pieces[0].body = shape.body();
    auto begun = DragSwing::begin(job, car, nullptr, 0, shape, {});
    ASSERT_TRUE(begun);
    DragSwing swing = std::move(begun).value();
    const auto outcome = swing.tell(swing_pairs(job, car, 0, nullptr).at(0), SwingCase::over_slam);
    ASSERT_TRUE(outcome);
    EXPECT_FALSE(outcome.value());
}

}  // namespace
}  // namespace sillwright::core
