#include "core/survey/suspect.h"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <iostream>
#include <random>

#include "core/survey/reading_results.h"
#include "core/survey/solve.h"
#include "tests/core/survey/shop_net.h"

namespace sillwright::core::survey {
namespace {

using geometry::in_mm;
using tests::mm;
using tests::noisy;
using tests::shop_net;
using tests::ShopNet;

constexpr int k_books = 2000;

/// Three standard errors of a share that is `p` in truth.
double three_sigma(double p, double count) {
    return 3.0 * std::sqrt(p * (1.0 - p) / count);
}

// Ellipses hold 95 in 100. The flag's false alarm is 1 in 1000 of all numbers (two-sided, 3.29); of books with m
// numbers it is at most m in 1000 (Bonferroni).
TEST(Suspect, NoisyBooksAreHeldByTheirEllipsesAndSeldomFlagged) {
    const ShopNet net = shop_net();
    std::mt19937 random(1);
    int plane = 0, space = 0, places = 0, flagged = 0, over = 0, numbers = 0;
    for (int i = 0; i < k_books; ++i) {
        const Solution s = solve(noisy(net.book, random), net.truth, false);
        ASSERT_TRUE(s.adjustment);
        for (const PlacedPoint& point : s.points) {
            if (point.kind != PointKind::mount) {
                continue;
            }
            const Eigen::Vector3d off = point.at_mm - net.truth.at_mm.at(point.name);
            const Eigen::Matrix2d section = point.covariance_mm2.bottomRightCorner<2, 2>();
            plane += off.tail<2>().dot(section.inverse() * off.tail<2>()) <= std::pow(factor_95(2), 2) ? 1 : 0;
            space += off.dot(point.covariance_mm2.inverse() * off) <= std::pow(factor_95(3), 2) ? 1 : 0;
            ++places;
        }
        for (const ReadingResult& result : s.readings) {
            over += result.numbers[0].w.value_or(0.0) > k_blunder_w ? 1 : 0;
            ++numbers;
        }
        flagged += s.suspect ? 1 : 0;
    }
    const double in_plane = static_cast<double>(plane) / places;
    const double in_space = static_cast<double>(space) / places;
    EXPECT_TRUE(in_plane >= 0.93 && in_plane <= 0.97) << in_plane;
    EXPECT_TRUE(in_space >= 0.93 && in_space <= 0.97) << in_space;
    const double alarm = static_cast<double>(over) / numbers;
    EXPECT_NEAR(alarm, 0.001, three_sigma(0.001, numbers));
    const double book_alarm = static_cast<double>(flagged) / k_books;
    const double bound = 0.001 * static_cast<double>(net.book.readings.size());
    EXPECT_LE(book_alarm, bound + three_sigma(bound, k_books));
    std::cout << "ellipses hold " << in_plane << ", ellipsoids " << in_space << "; alarm of a number " << alarm
              << ", of a book " << book_alarm << " (bound " << bound << ")\n";
}

TEST(Suspect, ABlunderOfTwiceTheLeastIsFoundAndNamed) {
    const ShopNet net = shop_net();
    const Solution plain = solve(net.book, net.truth, false);
    std::mt19937 random(2);
    int found = 0, apart = 0, named = 0;
    for (int i = 0; i < k_books; ++i) {
        Book book = noisy(net.book, random);
        const std::size_t which = static_cast<std::size_t>(i) % book.readings.size();
        const double blunder = 2.0 * *plain.readings[which].numbers[0].least_blunder * (i % 3 == 0 ? -1.0 : 1.0);
        Reading& wrong = book.readings[which];
        wrong.value = mm(in_mm(wrong.value->value) + blunder);
        const Solution s = solve(book, net.truth, false);
        found += s.suspect ? 1 : 0;
        if (s.suspect && s.suspect->told_apart) {
            ++apart;
            named += s.suspect->reading == which ? 1 : 0;
        }
    }
    EXPECT_GE(found, 0.99 * k_books);
    EXPECT_GT(apart, k_books / 2);
    EXPECT_GE(named, 0.80 * apart);
    std::cout << "found " << found << " of " << k_books << ", named " << named << " of " << apart << "\n";
}

// Swapped digits, 713 for 731, in one tie of a book without noise: what the others say is 731 again.
TEST(Suspect, SaysWhatTheOthersExpect) {
    ShopNet net = shop_net();
    const double right = in_mm(net.book.readings[4].value->value);
    net.book.readings[4].value = mm(right - 18.0);
    const Solution s = solve(net.book, net.truth, false);
    ASSERT_TRUE(s.suspect);
    EXPECT_EQ(s.suspect->reading, 4U);
    EXPECT_TRUE(s.suspect->told_apart);
    EXPECT_TRUE(s.suspect->others.empty());
    EXPECT_NEAR(s.suspect->expected, right, 0.3);  // the blunder is finite: the equations bend a little
    EXPECT_FALSE(s.global.holds);

    // Dropped on consent and tested again.
    net.book.readings[4].dropped = "digits swapped";
    const Solution again = solve(net.book, net.truth, false);
    EXPECT_FALSE(again.suspect);
    EXPECT_LT(again.global.sum, 1e-9);
    const ReadingResult& dropped = again.readings[4];
    EXPECT_EQ(dropped.use, ReadingUse::dropped);
    ASSERT_EQ(dropped.numbers.size(), 1U);
    EXPECT_NEAR(dropped.numbers[0].adjusted, right, 1e-6);
    EXPECT_NEAR(dropped.numbers[0].residual, 18.0, 1e-6);
    EXPECT_GT(*dropped.numbers[0].w, k_blunder_w);
}

// A coordinate that is held with an sd, and is wrong.
TEST(Suspect, AHeldCoordinateInConflictIsSaid) {
    ShopNet net = shop_net();
    tests::add(net.book, tests::reading(ReadingKind::up, {"A", "H1"}, -180.0, 0.5));
    Point& mount = net.book.points[3];
    ASSERT_EQ(mount.name, "H1");
    mount.up = mm(-150.0);
    mount.sd = mm(0.5);
    const Solution s = solve(net.book, net.truth, false);
    ASSERT_EQ(s.problems.size(), 1U);
    EXPECT_NE(s.problems[0].find("up of H1, held at -150.00 mm"), std::string::npos) << s.problems[0];
}

}  // namespace
}  // namespace sillwright::core::survey
