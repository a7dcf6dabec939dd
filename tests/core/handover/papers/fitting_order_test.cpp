#include "core/handover/papers/fitting_order.h"

#include <gmock/gmock.h>

#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

MountPlan plan(std::size_t locator, std::optional<std::size_t> guide, std::size_t count = 5) {
    MountPlan plan;
    for (std::size_t i = 0; i < count; ++i) {
        HolePlan hole;
        hole.mount = "H" + std::to_string(i + 1);
        hole.role = i == locator ? HoleRole::locator : i == guide ? HoleRole::guide : HoleRole::clearance;
        plan.holes.push_back(hole);
    }
    return plan;
}

TEST(FittingOrder, GoesOutwardFromTheLocatorByTurns) {
    EXPECT_THAT(fitting_order(plan(2, 3), 0), ElementsAre("H3", "H4", "H2", "H5", "H1"));
    EXPECT_THAT(fitting_order(plan(2, 1), 0), ElementsAre("H3", "H2", "H4", "H1", "H5"));
    EXPECT_THAT(fitting_order(plan(0, 1), 0), ElementsAre("H1", "H2", "H3", "H4", "H5"));
    EXPECT_THAT(fitting_order(plan(4, 3), 0), ElementsAre("H5", "H4", "H3", "H2", "H1"));
    EXPECT_THAT(fitting_order(plan(1, {}), 0), ElementsAre("H2", "H3", "H1", "H4", "H5"));
}

TEST(FittingOrder, GoesFromTheFrontWithoutALocator) {
    EXPECT_THAT(fitting_order(plan(9, {}), 0), ElementsAre("H1", "H2", "H3", "H4", "H5"));
    EXPECT_THAT(fitting_order(plan(2, 3), 1), IsEmpty());
    EXPECT_THAT(fitting_order({}, 0), IsEmpty());
}

/// What lies at the hand's inner side: the flange runs inward from its root.
TEST(FittingOrder, PictureIsSeenFromBelow) {
    for (const char* name : {"estate_a", "estate_a_left"}) {
        const Evaluation& evaluation = paper_world::sample(name);
        const auto drawing = order_picture(evaluation.job, evaluation.car, evaluation.plan, 0);
        ASSERT_FALSE(drawing.entities.empty());
        std::size_t holes = 0;
        double inner = 0.0;
        Eigen::AlignedBox2d outline;
        for (const geometry::DrawnEntity& entity : drawing.entities) {
            const auto box = geometry::bounds_mm({drawing.layers, {entity}});
            if (entity.layer == "DRILL") {
                ++holes;
                inner += box.center().y();
            } else if (entity.layer == "CUT_OUTSIDE") {
                outline = box;
            }
        }
        EXPECT_EQ(holes, evaluation.plan.holes.size());
        // Front on the left, seen from below: inward is up on a right-hand part, down on a left-hand one.
        EXPECT_EQ(inner > 0.0, evaluation.job.side == Side::right) << name;
        EXPECT_NEAR(outline.min().x(), 0.0, 1e-9);
    }
}

TEST(FittingOrder, PictureHasTheHolesAsTheyAreMade) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto drawing = order_picture(evaluation.job, evaluation.car, evaluation.plan, 0);
    std::size_t at = 0;
    for (const geometry::DrawnEntity& entity : drawing.entities) {
        if (entity.layer != "DRILL") {
            continue;
        }
        const HolePlan& hole = evaluation.plan.holes.at(at++);
        const auto box = geometry::bounds_mm({drawing.layers, {entity}});
        EXPECT_NEAR(box.sizes().x(), hole.drawn->length_mm, 1e-6) << hole.mount;
        EXPECT_NEAR(box.sizes().y(), hole.drawn->width_mm, 1e-6) << hole.mount;
        EXPECT_NEAR(box.center().x(), hole.landing.p_mm.x() + hole.drawn_shift_mm, 1e-6) << hole.mount;
    }
    EXPECT_TRUE(order_picture(
                    paper_world::sample("estate_a").job,
                    [] {
                        CarModel car;
                        car.pieces.emplace_back();
                        return car;
                    }(),
                    {}, 0)
                    .entities.empty());
}

}  // namespace
}  // namespace sillwright::core
