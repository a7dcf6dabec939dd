#include "geometry/seeded_draw.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace sillwright::geometry {
namespace {

constexpr int k_many = 200'000;

/// Greatest difference between the share of values below x and the law, times sqrt(n): Kolmogorov's statistic, above
/// 1.95 in one case of a thousand (published table, from memory).
template <class Law>
double kolmogorov(std::vector<double> values, Law law) {
    std::sort(values.begin(), values.end());
    const double n = static_cast<double>(values.size());
    double worst = 0.0;
    for (std::size_t i = 0; i < values.size(); ++i) {
        const double below = law(values[i]);
        worst = std::max({worst, below - static_cast<double>(i) / n, static_cast<double>(i + 1) / n - below});
    }
    return worst * std::sqrt(n);
}

TEST(SeededDraw, SameSeedSameNumbersOtherStreamOthers) {
    SeededDraw one(1, 7);
    SeededDraw same(1, 7);
    SeededDraw other(1, 8);
    int equal = 0;
    for (int i = 0; i < 1000; ++i) {
        const std::uint64_t drawn = one.next();
        EXPECT_EQ(drawn, same.next());
        equal += drawn == other.next() ? 1 : 0;
    }
    EXPECT_EQ(equal, 0);
}

TEST(SeededDraw, NormalFollowsTheErrorFunction) {
    std::vector<double> values;
    for (int i = 0; i < k_many; ++i) {
        values.push_back(SeededDraw(3, static_cast<std::uint64_t>(i)).normal());  // The first of each stream.
    }
    EXPECT_LT(kolmogorov(values, [](double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }), 1.95);
    SeededDraw draw(4, 0);
    for (double& value : values) {
        value = draw.normal();
    }
    EXPECT_LT(kolmogorov(values, [](double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }), 1.95);
}

// Closed forms: within r of the middle lies r² of the disc; each coordinate has variance 1/4, and they do not go
// together.
TEST(SeededDraw, DiscIsEven) {
    SeededDraw draw(5, 0);
    std::vector<double> squares;
    double xx = 0.0;
    double xy = 0.0;
    for (int i = 0; i < k_many; ++i) {
        const Eigen::Vector2d p = draw.in_disc();
        squares.push_back(p.squaredNorm());
        xx += p.x() * p.x() / k_many;
        xy += p.x() * p.y() / k_many;
    }
    EXPECT_LT(kolmogorov(squares, [](double s) { return s; }), 1.95);
    EXPECT_NEAR(xx, 0.25, 5.0 * 0.25 / std::sqrt(1.0 * k_many));
    EXPECT_NEAR(xy, 0.0, 5.0 * 0.25 / std::sqrt(1.0 * k_many));
}

}  // namespace
}  // namespace sillwright::geometry
