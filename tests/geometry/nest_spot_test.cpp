#include "geometry/nest_spot.h"

#include <gtest/gtest.h>

#include <limits>

#include "geometry/nest_check.h"
#include "geometry/seeded_draw.h"
#include "tests/support/nest_ribs.h"

namespace sillwright::geometry {
namespace {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;

constexpr double k_any = std::numeric_limits<double>::infinity();
const Polygon k_square{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
const AlignedBox2d k_range(Vector2d(0, 0), Vector2d(90, 90));

NoGo square_at(double x, double y) {
    return no_go(no_fit_rings(k_square, k_square, 0), 0, {x, y});
}

TEST(NestSpot, TakesTheCornerOfAnEmptySheet) {
    EXPECT_EQ(best_move({}, k_range, {1.0, 0.1}, k_any).value(), Vector2d(0, 0));
    EXPECT_EQ(best_move({}, k_range, {-1.0, -1.0}, k_any).value(), Vector2d(90, 90));
}

TEST(NestSpot, GoesBesideWhatLiesThere) {
    // Up the edge costs a hundredth of going along.
    const Vector2d above = best_move({square_at(0, 0)}, k_range, {1.0, 0.01}, k_any).value();
    EXPECT_NEAR((above - Vector2d(0, 10)).norm(), 0.0, 1e-3);
    const Vector2d beside = best_move({square_at(0, 0)}, k_range, {0.01, 1.0}, k_any).value();
    EXPECT_NEAR((beside - Vector2d(10, 0)).norm(), 0.0, 1e-3);
}

TEST(NestSpot, FindsWhereTwoBordersCross) {
    // Rings cover x < 15 and y < 15 as far as they reach; the least x + y between them is where they cross.
    const std::vector<NoGo> both{square_at(-2, 5), square_at(5, -2), square_at(-2, 20), square_at(20, -2)};
    const AlignedBox2d range(Vector2d(0, 0), Vector2d(14, 14));
    const Vector2d found = best_move(both, range, {1.0, 1.0001}, k_any).value();
    EXPECT_NEAR((found - Vector2d(8, 8)).norm(), 0.0, 1e-3) << found.transpose();
}

TEST(NestSpot, FindsNothingWhereThereIsNoRoom) {
    const AlignedBox2d tight(Vector2d(0, 0), Vector2d(9, 9));
    EXPECT_FALSE(best_move({square_at(4, 4)}, tight, {1.0, 0.0}, k_any));
    EXPECT_FALSE(best_move({}, AlignedBox2d(Vector2d(1, 0), Vector2d(0, 5)), {1.0, 0.0}, k_any));
    EXPECT_FALSE(best_move({}, k_range, {1.0, 0.0}, 0.0)) << "not less than zero";
}

TEST(NestSpot, FitsExactlyIntoAGap) {
    const Vector2d found =
        best_move({square_at(0, 0), square_at(20, 0)}, AlignedBox2d(Vector2d(0, 0), Vector2d(20, 0)), {1.0, 0.0}, k_any)
            .value();
    EXPECT_NEAR(found.x(), 10.0, 1e-3);
}

TEST(NestSpot, IsAsGoodAsEveryPlaceOfAGrid) {
    const std::vector<Polygon> ribs = tests::example_ribs(4, 2);
    const Vector2d fixed_at[]{{0, 0}, {300, 250}, {-100, 400}};
    std::vector<NoGo> no_gos;
    for (std::size_t i = 0; i < 3; ++i) {
        no_gos.push_back(no_go(no_fit_rings(ribs[i], ribs[3], 0), 0, fixed_at[i]));
    }
    const AlignedBox2d range(Vector2d(-50, -50), Vector2d(700, 500));
    SeededDraw draw(4, 0);
    for (int k = 0; k < 20; ++k) {
        const Vector2d weight{draw.uniform() - 0.3, draw.uniform() - 0.3};
        const auto found = best_move(no_gos, range, weight, k_any);
        ASSERT_TRUE(found);
        const auto is_free = [&](const Vector2d& at, double least) {
            for (std::size_t i = 0; i < 3; ++i) {
                Polygon there = ribs[3];
                for (Vector2d& p : there) {
                    p += at - fixed_at[i];
                }
                if (inside_ring(ribs[i], there[0]) || inside_ring(there, ribs[i][0]) ||
                    ring_distance_mm(ribs[i], there, 10.0) < least) {
                    return false;
                }
            }
            return true;
        };
        EXPECT_TRUE(range.contains(*found));
        for (double x = -50; x <= 700; x += 25) {
            for (double y = -50; y <= 500; y += 25) {
                if (weight.dot(Vector2d(x, y)) < weight.dot(*found) - 0.01) {
                    EXPECT_FALSE(is_free({x, y}, 1e-3)) << x << ", " << y << " beats " << found->transpose();
                }
            }
        }
    }
}

}  // namespace
}  // namespace sillwright::geometry
