#include "geometry/guide_line.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace sillwright::geometry {
namespace {

std::vector<Length> places(const std::vector<double>& mm) {
    std::vector<Length> result;
    for (const double s : mm) {
        result.push_back(millimetres(s));
    }
    return result;
}

GuideLine line(const std::vector<double>& at, const std::vector<double>& value) {
    return GuideLine::through(places(at), value).value();
}

const std::vector<double> k_at{0.0, 150.0, 330.0, 460.0, 700.0, 820.0, 1010.0, 1200.0, 1380.0, 1600.0};
const std::vector<double> k_value{3.0, 4.0, 2.5, 7.0, 7.5, 3.0, -2.0, 0.0, 6.0, 5.0};

TEST(GuideLine, PassesThroughEveryValueWithAContinuousSlope) {
    const GuideLine g = line(k_at, k_value);
    for (std::size_t i = 0; i < k_at.size(); ++i) {
        EXPECT_NEAR(g.value(millimetres(k_at[i])), k_value[i], 1e-12);
        // The slope changes by at most |bend| times the step across a place; |bend| < 0.01 here.
        EXPECT_NEAR(g.slope(millimetres(k_at[i] - 1e-7)), g.slope(millimetres(k_at[i])), 1e-8);
    }
}

// Hand count from Akima's formula. Differences 0, 1, 0, 2 over unit steps: at the
// third place m1..m4 = 0, 1, 0, 2, weights |2-0| = 2 and |1-0| = 1: (2*1 + 1*0)/3.
TEST(GuideLine, SlopeIsAkimasWeightedMean) {
    const GuideLine g = line({0.0, 1.0, 2.0, 3.0, 4.0}, {0.0, 0.0, 1.0, 1.0, 3.0});
    EXPECT_NEAR(g.slope(millimetres(2.0)), 2.0 / 3.0, 1e-14);
}

// Between two straights Akima gives the mean slope at the kink, hand count (0 + 1)/2.
TEST(GuideLine, KinkBetweenStraightsHasTheMeanSlope) {
    const GuideLine g = line({0.0, 1.0, 2.0, 3.0, 4.0}, {0.0, 0.0, 0.0, 1.0, 2.0});
    EXPECT_NEAR(g.slope(millimetres(2.0)), 0.5, 1e-14);
    const GuideLine noisy = line({0.0, 1.0, 2.0, 3.0, 4.0}, {0.0, 1e-14, 0.0, 1.0, 2.0});
    EXPECT_NEAR(noisy.slope(millimetres(2.0)), 0.5, 1e-12);
}

TEST(GuideLine, StraightDataGiveTheStraight) {
    std::vector<double> value;
    for (const double s : k_at) {
        value.push_back(12.0 - 0.031 * s);
    }
    const GuideLine g = line(k_at, value);
    for (double s = 0.0; s <= 1600.0; s += 7.0) {
        EXPECT_NEAR(g.value(millimetres(s)), 12.0 - 0.031 * s, 1e-12);
        EXPECT_NEAR(g.slope(millimetres(s)), -0.031, 1e-14);
        EXPECT_NEAR(g.bend(millimetres(s)), 0.0, 1e-14);
    }
}

TEST(GuideLine, TwoPlacesGiveTheStraightThreeTheParabola) {
    EXPECT_NEAR(line({10.0, 20.0}, {1.0, 3.0}).value(millimetres(15.0)), 2.0, 1e-15);
    // Akima's end rule is the parabola through the last three points, so with three
    // evenly spaced points all slopes are those of the parabola: y = s^2.
    const GuideLine g = line({-1.0, 0.0, 1.0}, {1.0, 0.0, 1.0});
    for (double s = -1.0; s <= 1.0; s += 0.125) {
        EXPECT_NEAR(g.value(millimetres(s)), s * s, 1e-14);
    }
}

TEST(GuideLine, DoesNotWiggleBesideAKink) {
    const GuideLine g = line({0.0, 100.0, 200.0, 300.0, 400.0, 500.0, 600.0}, {0.0, 0.0, 0.0, 0.0, 10.0, 20.0, 30.0});
    for (double s = 0.0; s <= 200.0; s += 1.0) {
        EXPECT_EQ(g.value(millimetres(s)), 0.0);
    }
    for (double s = 200.0; s < 600.0; s += 1.0) {
        EXPECT_GE(g.slope(millimetres(s + 0.5)), -10.0 / 100.0 / 4.0);  // a cubic's least dip beside a kink
    }
    for (double s = 400.0; s <= 600.0; s += 1.0) {
        EXPECT_NEAR(g.value(millimetres(s)), (s - 300.0) / 10.0, 1e-12);
    }
}

TEST(GuideLine, IsInvariantUnderAffineChange) {
    const GuideLine g = line(k_at, k_value);
    std::vector<double> at, value;
    for (std::size_t i = 0; i < k_at.size(); ++i) {
        at.push_back(40.0 + 1.7 * k_at[i]);
        value.push_back(-5.0 - 2.5 * k_value[i] + 0.02 * at[i]);
    }
    const GuideLine changed = line(at, value);
    for (double s = 0.0; s <= 1600.0; s += 3.7) {
        const double t = 40.0 + 1.7 * s;
        EXPECT_NEAR(changed.value(millimetres(t)), -5.0 - 2.5 * g.value(millimetres(s)) + 0.02 * t, 1e-11);
    }
}

TEST(GuideLine, MovedValueIsFeltToTheThirdPlaceOnly) {
    const GuideLine g = line(k_at, k_value);
    for (std::size_t moved = 0; moved < k_at.size(); ++moved) {
        std::vector<double> value = k_value;
        value[moved] += 1.0;
        const GuideLine other = line(k_at, value);
        const double from = k_at[moved < GuideLine::k_reach ? 0 : moved - GuideLine::k_reach];
        const double to = k_at[std::min(moved + GuideLine::k_reach, k_at.size() - 1)];
        bool felt_at_all = false;
        for (double s = 0.0; s <= 1600.0; s += 1.0) {
            const bool same = g.value(millimetres(s)) == other.value(millimetres(s));
            felt_at_all = felt_at_all || !same;
            EXPECT_TRUE(same || (s >= from && s <= to)) << "place " << moved << ", felt at " << s;
        }
        EXPECT_TRUE(felt_at_all);
        Length changed_from = millimetres(1e9);
        Length changed_to = millimetres(-1e9);
        ASSERT_TRUE(g.widen_by_difference(other, changed_from, changed_to));
        EXPECT_GE(in_mm(changed_from), from);
        EXPECT_LE(in_mm(changed_to), to);
    }
}

TEST(GuideLine, EndsHoldOutside) {
    const GuideLine g = line(k_at, k_value);
    EXPECT_EQ(g.value(millimetres(-50.0)), k_value.front());
    EXPECT_EQ(g.value(millimetres(5000.0)), k_value.back());
}

TEST(GuideLine, RefusesWhatIsNoLine) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_FALSE(GuideLine::through(places({1.0}), {1.0}).has_value());
    EXPECT_FALSE(GuideLine::through(places({1.0, 2.0}), {1.0}).has_value());
    EXPECT_FALSE(GuideLine::through(places({1.0, nan}), {1.0, 2.0}).has_value());
    EXPECT_FALSE(GuideLine::through(places({1.0, 2.0}), {1.0, nan}).has_value());
    const auto falling = GuideLine::through(places({1.0, 3.0, 3.0}), {1.0, 2.0, 3.0});
    ASSERT_FALSE(falling.has_value());
    EXPECT_EQ(falling.error().code, ErrorCode::invalid_argument);
    EXPECT_NE(falling.error().message.find("Place 3"), std::string::npos);
}

}  // namespace
}  // namespace sillwright::geometry
