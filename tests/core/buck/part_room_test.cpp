#include "core/buck/part_room.h"

#include <gtest/gtest.h>

#include <random>

#include "tests/core/buck/example_buck.h"

namespace sillwright::core {
namespace {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;

PartRoom board() {
    return PartRoom::of(
               geometry::make_profile({{{0, 0}, {}}, {{100, 0}, {}}, {{100, 60}, {}}, {{0, 60}, {}}}, true).value())
        .value();
}

TEST(PartRoom, KeepsThreeMillimetresOffTheEdges) {
    const auto free = board().free(20, 30);
    ASSERT_EQ(free.size(), 1U);
    EXPECT_DOUBLE_EQ(free[0].from_mm, 3.0);
    EXPECT_DOUBLE_EQ(free[0].to_mm, 97.0);
    EXPECT_TRUE(board().free(1, 30).empty());
    EXPECT_TRUE(board().free(20, 58).empty());
}

TEST(PartRoom, KeepsOffWhatIsTaken) {
    PartRoom room = board();
    room.keep_off(AlignedBox2d(Vector2d(40, 25), Vector2d(50, 35)));
    const auto free = room.free(20, 30);
    ASSERT_EQ(free.size(), 2U);
    EXPECT_DOUBLE_EQ(free[0].to_mm, 40.0);
    EXPECT_DOUBLE_EQ(free[1].from_mm, 50.0);
    EXPECT_EQ(room.free(10, 20).size(), 1U);
    const auto upright = room.turned().free(45, 46);
    ASSERT_EQ(upright.size(), 2U);
    EXPECT_DOUBLE_EQ(upright[0].to_mm, 25.0);
}

TEST(PartRoom, PlacesABoxWhereItFitsOnly) {
    EXPECT_TRUE(board().place({94, 54}).has_value());
    EXPECT_FALSE(board().place({95, 10}).has_value());
    EXPECT_FALSE(board().place({10, 55}).has_value());
    const auto there = board().place({10, 10}, AlignedBox2d(Vector2d(70, 30), Vector2d(90, 45)));
    ASSERT_TRUE(there.has_value());
    EXPECT_GE(there->x(), 70.0);
    EXPECT_LE(there->x(), 80.0);
    EXPECT_GE(there->y(), 30.0);
    EXPECT_LE(there->y(), 35.0);
}

TEST(PartRoom, LeavesRoomRoundARandomBoxOnARib) {
    const geometry::Profile outline = tests::rib_outline();
    const PartRoom room = PartRoom::of(outline).value();
    std::mt19937 random(5);
    std::uniform_real_distribution<double> size(3.0, 90.0);
    int placed = 0;
    for (int i = 0; i < 100; ++i) {
        const Vector2d box(size(random), size(random));
        if (const auto at = room.place(box)) {
            ++placed;
            for (int k = 0; k <= 40; ++k) {
                const double part = k / 40.0;
                for (const Vector2d& p : {Vector2d(part * box.x(), 0), Vector2d(part * box.x(), box.y()),
                                          Vector2d(0, part * box.y()), Vector2d(box.x(), part * box.y())}) {
                    EXPECT_TRUE(contains(outline, *at + p));
                    EXPECT_GE(geometry::in_mm(nearest_point(outline, *at + p).distance), 3.0 - 0.01);
                }
            }
        }
    }
    EXPECT_GT(placed, 50);
}

}  // namespace
}  // namespace sillwright::core
