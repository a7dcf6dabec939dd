#include "geometry/nest_shape.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "geometry/nest_check.h"
#include "geometry/polygon_triangles.h"
#include "geometry/seeded_draw.h"
#include "tests/support/nest_ribs.h"

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

const Polygon k_square{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
/// A U, 30 x 20, walls of 5.
const Polygon k_u{{0, 0}, {30, 0}, {30, 20}, {25, 20}, {25, 5}, {5, 5}, {5, 20}, {0, 20}};

Polygon moved(Polygon ring, const Vector2d& by) {
    for (Vector2d& p : ring) {
        p += by;
    }
    return ring;
}

bool in_rings(const std::vector<Polygon>& rings, const Vector2d& p) {
    bool inside = false;
    for (const Polygon& ring : rings) {
        inside = inside != inside_ring(ring, p);
    }
    return inside;
}

double enclosed(const std::vector<Polygon>& rings) {
    double area = 0.0;
    for (const Polygon& ring : rings) {
        area += polygon_area(ring);
    }
    return area;
}

TEST(NestShape, GrowsASquareByItsRoundedArea) {
    // Steiner: area + perimeter r + pi r^2.
    const auto grown = grown_ring(k_square, {millimetres(4), {}, {}, {}});
    ASSERT_TRUE(grown);
    const double least = 100.0 + 40.0 * 4.0 + std::numbers::pi * 16.0;
    EXPECT_GE(polygon_area(grown.value()), least - 1e-9);
    EXPECT_LE(polygon_area(grown.value()), least + 0.02 * (40.0 + 2.0 * std::numbers::pi * 4.0));
}

TEST(NestShape, StandsNoNearerThanAskedWithFewerCorners) {
    for (const Polygon& rib : tests::example_ribs(12, 5)) {
        const auto fine = grown_ring(rib, {millimetres(4), {}, {}, {}});
        const auto plain = grown_ring(rib, {millimetres(4), millimetres(8), millimetres(0.5), millimetres(2)});
        ASSERT_TRUE(fine && plain);
        EXPECT_LT(plain.value().size() * 2, fine.value().size());
        EXPECT_GE(ring_distance_mm(rib, plain.value(), 100.0), 4.0);
        for (const Vector2d& p : rib) {
            EXPECT_TRUE(inside_ring(plain.value(), p));
        }
        EXPECT_LT(polygon_area(plain.value()) / polygon_area(rib), 1.2);
    }
}

TEST(NestShape, FillsPocketsThatNothingEnters) {
    // The mouth of 20, grown by 2 from both sides, is 16 wide: a disc of 9 does not enter, one of 7 does.
    const double open = polygon_area(grown_ring(k_u, {millimetres(2), millimetres(7), {}, {}}).value());
    const double filled = polygon_area(grown_ring(k_u, {millimetres(2), millimetres(9), {}, {}}).value());
    EXPECT_GT(filled - open, 100.0);
}

TEST(NestShape, RefusesWhatIsNoOutline) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const Polygon& bad : {Polygon{}, Polygon{{0, 0}, {1, 0}}, Polygon{{0, 0}, {0, 10}, {10, 10}, {10, 0}},
                               Polygon{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, Polygon{{0, 0}, {nan, 0}, {1, 1}},
                               Polygon{{0, 0}, {2e5, 0}, {0, 1}}, Polygon{{0, 0}, {5, 0}, {10, 0}}}) {
        const auto grown = grown_ring(bad, {millimetres(1), {}, {}, {}});
        ASSERT_FALSE(grown);
        EXPECT_EQ(grown.error().code, ErrorCode::invalid_argument);
    }
}

TEST(NestShape, TurnsByQuartersWithoutRounding) {
    EXPECT_EQ(quarter_turned(Vector2d(0.1, 0.3), 1), Vector2d(-0.3, 0.1));
    EXPECT_EQ(quarter_turned(Vector2d(0.1, 0.3), -1), Vector2d(0.3, -0.1));
    EXPECT_EQ(quarter_turned(Vector2d(0.1, 0.3), 6), Vector2d(-0.1, -0.3));
}

TEST(NestShape, NoFitOfTwoSquaresIsTheSquareTwiceAsLarge) {
    const auto rings = no_fit_rings(k_square, k_square, 0);
    ASSERT_EQ(rings.size(), 1U);
    EXPECT_NEAR(polygon_area(rings[0]), 400.0, 1e-2);
    EXPECT_TRUE(in_rings(rings, {-9.99, 9.99}));
    EXPECT_FALSE(in_rings(rings, {-10.01, 0.0}));
}

TEST(NestShape, NoFitLeavesTheHollowOfAUFree) {
    // A square of 10 in a mouth of 20 x 15: moves of 5 to 15 along, and up from 5.
    const auto rings = no_fit_rings(k_u, k_square, 0);
    EXPECT_FALSE(in_rings(rings, {10.0, 5.01}));
    EXPECT_FALSE(in_rings(rings, {14.99, 8.0}));
    EXPECT_TRUE(in_rings(rings, {15.01, 8.0}));
    EXPECT_TRUE(in_rings(rings, {10.0, 4.99}));
    // Hand count: 40 x 30 all round, less 10 x 15 that is free.
    EXPECT_NEAR(enclosed(rings), 1200.0 - 150.0, 0.1);
}

TEST(NestShape, NoFitFindsAnEnclosedHollow) {
    // Almost a ring: the square goes into its middle but not through its mouth of 2.
    const Polygon c{{0, 0},  {30, 0},  {30, 14}, {25, 14}, {25, 5},  {5, 5},
                    {5, 25}, {25, 25}, {25, 16}, {30, 16}, {30, 30}, {0, 30}};
    const auto rings = no_fit_rings(c, k_square, 0);
    EXPECT_EQ(rings.size(), 2U);
    EXPECT_FALSE(in_rings(rings, {10.0, 10.0}));
    EXPECT_NEAR(enclosed(rings), 1600.0 - 100.0, 0.1);
}

/// Neither crossing nor one within the other, by edges.
bool apart(const Polygon& a, const Polygon& b) {
    return ring_distance_mm(a, b, 1e9) > 0.0 && !inside_ring(a, b[0]) && !inside_ring(b, a[0]);
}

TEST(NestShape, NoFitSaysOverlapAsTheEdgesDo) {
    const std::vector<Polygon> ribs = tests::example_ribs(6, 9);
    SeededDraw draw(3, 0);
    int overlapping = 0, clear = 0;
    for (int quarters = 0; quarters < 4; ++quarters) {
        for (std::size_t k = 0; k + 1 < ribs.size(); ++k) {
            const auto rings = no_fit_rings(ribs[k], ribs[k + 1], quarters);
            const Polygon turned = quarter_turned(ribs[k + 1], quarters);
            for (int i = 0; i < 300; ++i) {
                const Vector2d move{1400.0 * draw.uniform() - 700.0, 1400.0 * draw.uniform() - 700.0};
                const Polygon there = moved(turned, move);
                if (ring_distance_mm(ribs[k], there, 1e9) < 0.01 && apart(ribs[k], there)) {
                    continue;  // touching, but for rounding
                }
                const bool is_apart = apart(ribs[k], there);
                (is_apart ? clear : overlapping) += 1;
                ASSERT_EQ(in_rings(rings, move), !is_apart)
                    << k << " turned " << quarters << " at " << move.transpose();
            }
        }
    }
    EXPECT_GT(overlapping, 500);
    EXPECT_GT(clear, 500);
}

TEST(NestShape, LeastGrownAreaIsNeverMoreThanTheTrueOne) {
    const double true_area = 100.0 + 40.0 * 4.0 + std::numbers::pi * 16.0;
    const double least = least_grown_area_mm2(k_square, millimetres(4), millimetres(0.01));
    EXPECT_LE(least, true_area);
    EXPECT_GT(least, true_area - 2.0);
}

}  // namespace
}  // namespace sillwright::geometry
