#include "core/survey/reading_results.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/survey/solve.h"
#include "tests/core/survey/shop_net.h"

namespace sillwright::core::survey {
namespace {

using tests::add;
using tests::held;
using tests::mm;
using tests::reading;
using tests::unheld;

// One height measured three times with sd 1 from a held mark: redundancy 2/3 each; a blunder must be 4.13 / sqrt(2/3)
// to be found (Baarda, non-centrality 17.07: sqrt is 4.13).
TEST(ReadingResults, NumbersOfARepeatedHeightByHand) {
    Book book;
    book.points = {held("A", {0, 0, 0}), unheld("H")};
    book.points[1].along = book.points[1].out = mm(50.0);
    for (const double value : {10.0, 11.0, 15.0}) {
        add(book, reading(ReadingKind::height, {"A", "H"}, value));
    }
    const Solution s = solve(book, tests::start_at({{"A", {0, 0, 0}}, {"H", {50, 50, 9}}}), false);
    ASSERT_TRUE(s.adjustment);
    EXPECT_NEAR(s.find("H")->at_mm.z(), 12.0, 1e-12);
    const AdjustedNumber& number = s.readings[2].numbers[0];
    EXPECT_EQ(s.readings[2].use, ReadingUse::used);
    EXPECT_NEAR(number.adjusted, 12.0, 1e-12);
    EXPECT_NEAR(number.residual, -3.0, 1e-12);
    EXPECT_NEAR(number.redundancy, 2.0 / 3.0, 1e-12);
    EXPECT_NEAR(*number.w, 3.0 / std::sqrt(2.0 / 3.0), 1e-12);
    EXPECT_NEAR(*number.least_blunder, std::sqrt(17.07) / std::sqrt(2.0 / 3.0), 0.005);
    // Dropped, it is against the mean of the two others, whose variance is 1/2: w = 4.5 / sqrt(1.5).
    book.readings[2].dropped = "foot on the cable";
    const Solution without = solve(book, tests::start_at({{"A", {0, 0, 0}}, {"H", {50, 50, 9}}}), false);
    EXPECT_NEAR(without.readings[2].numbers[0].residual, -4.5, 1e-12);
    EXPECT_NEAR(*without.readings[2].numbers[0].w, 4.5 / std::sqrt(1.5), 1e-12);
    EXPECT_EQ(without.readings[2].numbers[0].redundancy, 1.0);
}

TEST(ReadingResults, WhatNothingChecksHasNoW) {
    Book book;
    book.points = {held("A", {0, 0, 0}), unheld("H")};
    for (const ReadingKind kind : {ReadingKind::along, ReadingKind::out, ReadingKind::up}) {
        add(book, reading(kind, {"A", "H"}, 10.0));
    }
    const Solution s = solve(book, tests::start_at({{"A", {0, 0, 0}}, {"H", {9, 9, 9}}}), false);
    ASSERT_EQ(s.readings.size(), 3U);
    for (const ReadingResult& result : s.readings) {
        ASSERT_EQ(result.numbers.size(), 1U);
        EXPECT_NEAR(result.numbers[0].redundancy, 0.0, 1e-12);
        EXPECT_FALSE(result.numbers[0].w);
        EXPECT_FALSE(result.numbers[0].least_blunder);
    }
    EXPECT_EQ(s.global.degrees_of_freedom, 0);
    EXPECT_TRUE(s.global.holds);
    EXPECT_FALSE(s.suspect);
}

// Gaps at one place check each other, with no coordinates: mean 4.2, each off by 0.1.
TEST(ReadingResults, RepeatedGapsCheckEachOther) {
    Book book;
    add(book, reading(ReadingKind::gap, {"sill"}, 4.1, 0.2));
    add(book, reading(ReadingKind::gap, {"sill"}, 4.3, 0.2));
    const Solution s = solve(book, Start{}, false);
    ASSERT_TRUE(s.adjustment);
    EXPECT_NEAR(s.readings[0].numbers[0].adjusted, 4.2, 1e-12);
    EXPECT_NEAR(s.readings[0].numbers[0].redundancy, 0.5, 1e-12);
    EXPECT_NEAR(*s.readings[0].numbers[0].w, 0.1 / (0.2 * std::sqrt(0.5)), 1e-9);
}

TEST(ReadingResults, NothingIsLeftOutInSilence) {
    Book book;
    book.points = {held("A", {0, 0, 0})};
    add(book, reading(ReadingKind::tie, {"A", "X"}, 10.0));
    add(book, reading(ReadingKind::tie, {"A", "A"}, 10.0));
    add(book, reading(ReadingKind::tie, {"A", "X"}, 10.0));
    book.readings[2].dropped = "twice";
    const Solution s = solve(book, tests::start_at({{"A", {0, 0, 0}}}), true);
    ASSERT_EQ(s.readings.size(), 3U);
    EXPECT_EQ(s.readings[0].use, ReadingUse::waiting);
    EXPECT_EQ(s.readings[0].why, "X is not placed yet.");
    EXPECT_EQ(s.readings[1].use, ReadingUse::not_usable);
    EXPECT_FALSE(s.readings[1].why.empty());
    EXPECT_EQ(s.readings[2].use, ReadingUse::dropped);
    EXPECT_TRUE(s.readings[2].numbers.empty());
    ASSERT_EQ(s.lacking.size(), 1U);
    EXPECT_EQ(s.lacking[0].name, "X");
}

}  // namespace
}  // namespace sillwright::core::survey
