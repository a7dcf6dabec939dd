#include "core/drag_shape.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/skirt/sheet_body.h"
#include "core/skirt/surface.h"
#include "tests/core/forming/hand_formed.h"
#include "tests/core/swing/swing_world.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::millimetres;

/// Deviation that is asked for.
constexpr geometry::Length k_asked = millimetres(0.1);

struct World {
    Piece piece =
        swing_world::piece("skirt", {{"shelf inner", -30, 100}, {"shelf edge", 60, 100}, {"lower edge", 70, 20}});
    geometry::Loft line =
        *swing_world::model_of(swing_world::job(piece, swing_world::door(swing_world::hinge(0), 140))).pieces[0].line;
    Vector2d start{60, 100};  ///< Of the shelf edge, at the third station.

    [[nodiscard]] DragShape begun() const {
        auto shape = DragShape::begin(piece, line, "shelf edge", 2, k_asked);
        EXPECT_TRUE(shape) << (shape ? "" : shape.error().message);
        return std::move(shape).value();
    }
    [[nodiscard]] geometry::MovedLoft moved(const Vector2d& by) const {
        return line.moved("shelf edge", 2, start + by).value();
    }
};

/// No corner of the fine mesh of the same line is further from the shape than both deviations allow.
void expect_near_truth(const World& world, const DragShape& shape, const geometry::Loft& line) {
    const auto faces = *sheet_faces(world.piece);
    const auto layout = geometry::layout_of_sheet(line, faces, millimetres(0.002)).value();
    const auto fine = geometry::mesh_of(geometry::sheet_ring(line, faces, layout).value(), millimetres(0.005)).value();
    const double allowed = in_mm(shape.deviation()) + in_mm(fine.mesh.deviation);
    for (const auto& triangle : fine.mesh.triangles) {
        const Eigen::Vector3d& p = fine.mesh.points[static_cast<std::size_t>(triangle[0])];
        EXPECT_LE(geometry::nearest_on_surface(*shape.body().tree, p).distance_mm, allowed);
    }
}

TEST(DragShape, HoldsItsDeviationNearAndFar) {
    const World world;
    DragShape shape = world.begun();
    EXPECT_LE(shape.deviation(), k_asked);
    EXPECT_EQ(shape.body().mesh.deviation, shape.deviation() + k_drag_margin);
    for (const Vector2d& by : {Vector2d(0, 0), Vector2d(1, -2), Vector2d(3, 3), Vector2d(-20, 12)}) {
        const geometry::MovedLoft moved = world.moved(by);
        ASSERT_TRUE(shape.to(world.piece, moved.loft, moved.changed, world.start + by));
        EXPECT_LE(shape.deviation(), 2.0 * k_asked);
        EXPECT_EQ(shape.follows(), by.norm() < 5.0) << by.transpose();
        EXPECT_EQ(geometry::open_edge_count(shape.body().mesh), 0U);
        expect_near_truth(world, shape, moved.loft);
    }
}

TEST(DragShape, TellsHowFarCornersHaveMoved) {
    const World world;
    DragShape shape = world.begun();
    const geometry::MovedLoft moved = world.moved({0, 2});
    ASSERT_TRUE(shape.to(world.piece, moved.loft, moved.changed, world.start + Vector2d(0, 2)));
    ASSERT_EQ(shape.moved().size(), shape.body().tree->nodes().size());
    // The node itself moves by 2, its mitre on the far face by no more than twice that.
    EXPECT_GE(shape.moved()[0], 2.0 - 1e-9);
    EXPECT_LE(shape.moved()[0], 4.0);
}

TEST(DragShape, IsAsItWasWhereThereIsNoBody) {
    const World world;
    DragShape shape = world.begun();
    const auto before = shape.body().mesh.points;
    // A straight of about one millimetre before a sharp turn outward: on the outside, 3 mm away, nothing is left of it.
    const auto folded = world.line.moved("shelf edge", 2, {70.5, 19.0});
    ASSERT_TRUE(folded);
    EXPECT_FALSE(shape.to(world.piece, folded.value().loft, folded.value().changed, {70.5, 19.0}));
    EXPECT_EQ(shape.body().mesh.points, before);
}

/// As the full check makes it, and coarser for the drag: each within its deviation of the other, at rest and moved.
TEST(DragShape, KeepsTheThicknessOfTheFormedSheet) {
    const World world;
    const auto formed = hand_formed(0.5, 1.5);
    auto begun = DragShape::begin(world.piece, world.line, "shelf edge", 2, k_asked, formed);
    ASSERT_TRUE(begun) << begun.error().message;
    DragShape shape = std::move(begun).value();
    for (const Vector2d& by : {Vector2d(0, 0), Vector2d(1, -2), Vector2d(-20, 12)}) {
        const geometry::MovedLoft moved = world.moved(by);
        ASSERT_TRUE(shape.to(world.piece, moved.loft, moved.changed, world.start + by));
        EXPECT_EQ(shape.follows(), by.norm() < 5.0);
        const auto fine =
            geometry::mesh_of(sheet_body(world.piece, moved.loft, formed.get(), millimetres(0.008)).value(),
                              k_check_deviation)
                .value();
        const double allowed = in_mm(shape.deviation()) + in_mm(fine.mesh.deviation);
        for (const auto& triangle : fine.mesh.triangles) {
            const Eigen::Vector3d& p = fine.mesh.points[static_cast<std::size_t>(triangle[0])];
            EXPECT_LE(geometry::nearest_on_surface(*shape.body().tree, p).distance_mm, allowed);
        }
    }
}

}  // namespace
}  // namespace sillwright::core
