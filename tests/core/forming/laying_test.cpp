#include "core/forming/laying.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/forming/machine_table.h"
#include "tests/core/forming/platen_world.h"

namespace sillwright::core {
namespace {

using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using namespace platen_world;

Silhouette seen(const Job& job) {
    return silhouette(piece_of(job), line_of(job), degrees(0));
}

Platen laid_of(const Job& job) {
    return laid_platen(job.forming, piece_of(job), seen(job), degrees(0), mould_size(chain_of(job)));
}

TEST(Laying, RoomIsTheWindowLessClampsAndClampDistance) {
    const Job job = job_of();
    const Room room = room_of(job.forming, *machine_of(job.forming), MouldSize{});
    EXPECT_EQ(room.size_mm, Eigen::Vector2d(1830 - 2 * 25 - 2 * k_clamp_mm, 610 - 2 * 25 - 2 * k_clamp_mm));
    EXPECT_EQ(room.trim_mm, k_trim_mm);
}

TEST(Laying, StraightWhereThatFits) {
    const Job job = job_of();
    // The best turn would leave more to spare.
    const auto fit = laid(seen(job), {{2400, 600}, k_trim_mm});
    EXPECT_EQ(in_deg(fit.yaw), 0.0);
    EXPECT_NEAR(in_mm(fit.excess), std::max(k_length_mm + 2 * k_trim_mm - 2400, k_width_mm + 2 * k_trim_mm - 600),
                1e-9);
    const auto across = laid(seen(job), {{600, 2400}, k_trim_mm});
    EXPECT_EQ(in_deg(across.yaw), 90.0);
    EXPECT_NEAR(in_mm(across.excess), in_mm(fit.excess), 1e-9);
}

TEST(Laying, TurnedWhereItFitsOnlySo) {
    const Job job = job_of();
    // A mould of 1940 x 146; see the closed form of tests/geometry/window_fit_test.cpp.
    const double p = k_length_mm + 2 * k_trim_mm;
    const double q = k_width_mm + 2 * k_trim_mm;
    const double a = 1900;
    const double b = (2 * p * q * a + (p * p - q * q) * std::sqrt(p * p + q * q - a * a)) / (p * p + q * q);
    const auto fit = laid(seen(job), {{a, b + 1.0}, k_trim_mm});
    EXPECT_LT(in_mm(fit.excess), 0.0);
    EXPECT_GT(in_mm(fit.excess), -1.0);
    EXPECT_GT(in_deg(fit.yaw), 1.0);
}

// The part in the platen's frame: outlines one in the other, the need in the free window, sizes by hand.
TEST(Laying, OutlinesLieInOneAnotherAndInTheWindow) {
    Job job = job_of();
    job.forming.machine = "window 2500 × 800";
    const Platen platen = laid_of(job);
    EXPECT_EQ(platen.window_mm, Eigen::Vector2d(2500, 800));
    EXPECT_EQ(platen.free_mm, Eigen::Vector2d(2440, 740));
    const Eigen::Vector2d need(k_length_mm + 2 * (k_trim_mm + k_clamp_mm), k_width_mm + 2 * (k_trim_mm + k_clamp_mm));
    EXPECT_LT((platen.size_mm - need).norm(), 1e-9);
    EXPECT_NEAR(in_mm(platen.excess), std::max(need.x() - 2440, need.y() - 740), 1e-9);
    EXPECT_NEAR(in_mm(platen.height), k_depth_mm + k_trim_mm, 1e-9);
    EXPECT_TRUE(platen.missing.empty());
    const auto half_size = [](const std::vector<Eigen::Vector2d>& points) {
        Eigen::Vector2d most = Eigen::Vector2d::Zero();
        for (const Eigen::Vector2d& p : points) {
            most = most.cwiseMax(p.cwiseAbs());
        }
        return most;
    };
    EXPECT_LT((half_size(platen.need_mm) - 0.5 * need).norm(), 1e-9);
    EXPECT_LT((half_size(platen.mould_mm) - 0.5 * need + Eigen::Vector2d(k_clamp_mm, k_clamp_mm)).norm(), 1e-9);
    EXPECT_LT((half_size(platen.part_mm) - 0.5 * Eigen::Vector2d(k_length_mm, k_width_mm)).norm(), 1e-9);
}

// By hand: 1900 / 0.994 · (1 + 25e-6 · 45) = 1913.6192 of mould; 106 and 113 by 1.008157 as well: 106.7596, 113.8098.
// Trim allowance and clamp distance are what they are; the part stays as it is.
TEST(Laying, TheMouldIsLargerThanThePartByShrinkageAndHeat) {
    Job job = job_of();
    job.forming.machine = "window 2500 × 800";
    const Platen before = laid_of(job);
    job.forming.generations = chain_to_sheet(0.006, 0.006, 45.0);
    const Platen platen = laid_of(job);
    const double around = 2 * (k_trim_mm + k_clamp_mm);
    EXPECT_NEAR(platen.size_mm.x(), 1913.62 + around, 0.005);
    EXPECT_NEAR(platen.size_mm.x(), k_length_mm / 0.994 * 1.001125 + around, 1e-9);
    EXPECT_NEAR(platen.size_mm.y(), k_width_mm / 0.994 * 1.001125 + around, 1e-9);
    EXPECT_NEAR(in_mm(platen.height), k_depth_mm / 0.994 * 1.001125 + k_trim_mm, 1e-9);
    EXPECT_NEAR(in_mm(platen.excess - before.excess), 13.62, 0.005);
    ASSERT_EQ(platen.part_mm.size(), before.part_mm.size());
    for (std::size_t i = 0; i < platen.part_mm.size(); ++i) {
        EXPECT_LT((platen.part_mm[i] - before.part_mm[i]).norm(), 1e-9) << "in the mould's middle";
    }
    EXPECT_NEAR(platen.mould_mm.front().x() - before.mould_mm.front().x(), -13.62 / 2, 0.005);
}

// Along and across each by its own; cold where no heat is given; a part that leans is not scaled about the car's axes.
TEST(Laying, EachDirectionHasItsOwnShrinkage) {
    Job job = job_of();
    job.forming.machine = "window 2500 × 800";
    job.forming.generations = chain_to_sheet(0.005, 0.02);
    const Platen platen = laid_of(job);
    const double around = 2 * (k_trim_mm + k_clamp_mm);
    EXPECT_NEAR(platen.size_mm.x(), k_length_mm / 0.995 + around, 1e-9);
    EXPECT_NEAR(platen.size_mm.y(), k_width_mm / 0.98 + around, 1e-9);
    EXPECT_NEAR(in_mm(platen.height), k_depth_mm / 0.98 + k_trim_mm, 1e-9);
    // What is not known is laid at the part's size.
    job.forming.generations.back().shrink_across.reset();
    EXPECT_NEAR(laid_of(job).size_mm.x(), k_length_mm / 0.995 + around, 1e-9);
    EXPECT_NEAR(laid_of(job).size_mm.y(), k_width_mm + around, 1e-9);
    job.forming.generations.pop_back();
    EXPECT_NEAR(laid_of(job).size_mm.x(), k_length_mm + around, 1e-9) << "no sheet at the list's end";
}

// Every point of the need is the clamp distance from the mould's hull, at most, and its corners are round.
TEST(Laying, TheNeedIsRoundAtTheMouldsCorners) {
    Job job = job_of();
    job.forming.machine = "window 2500 × 800";
    const Platen platen = laid_of(job);
    const Eigen::Vector2d corner = 0.5 * Eigen::Vector2d(k_length_mm + 2 * k_trim_mm, k_width_mm + 2 * k_trim_mm);
    int round = 0;
    for (const Eigen::Vector2d& p : platen.need_mm) {
        const Eigen::Vector2d out = (p.cwiseAbs() - corner).cwiseMax(0.0);
        EXPECT_NEAR(out.norm(), k_clamp_mm, 1e-9);
        round += out.x() > 1.0 && out.y() > 1.0 ? 1 : 0;
    }
    EXPECT_GE(round, 4 * 10);
}

TEST(Laying, OfATurnedPartTheExcessIsThatOfItsNeed) {
    const Job job = job_of();
    const Platen platen = laid_of(job);
    ASSERT_NE(in_deg(platen.yaw), 0.0);
    EXPECT_GT(in_mm(platen.excess), 0.0);
    EXPECT_NEAR((platen.size_mm - platen.free_mm).maxCoeff(), in_mm(platen.excess), 1e-9);
    // The drawn outline, with chords for the round corners, has the same extents.
    Eigen::Vector2d low = platen.need_mm.front();
    Eigen::Vector2d high = low;
    for (const Eigen::Vector2d& p : platen.need_mm) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    EXPECT_LT((high - low - platen.size_mm).norm(), 1e-9);
}

TEST(Laying, WhatIsMissingIsListedAndCountsAsNothing) {
    Job job = job_of();
    job.forming.machine.clear();
    job.forming.clamp_distance.reset();
    job.skirt.pieces.front().sheet.reset();
    const Platen none = laid_of(job);
    EXPECT_EQ(none.missing.size(), 3U);
    EXPECT_EQ(in_deg(none.yaw), 0.0);
    EXPECT_TRUE(none.window_mm.isZero());
    EXPECT_FALSE(none.part_mm.empty());
    job.forming.machine = "one that nobody has";
    EXPECT_NE(laid_of(job).missing[1].find("one that nobody has"), std::string::npos);
    job = job_of();
    job.forming.machines = {machine_of_size("own", 3000, 900)};
    job.forming.machines.front().clamp_margin.reset();
    job.forming.machine = "own";
    const Platen own = laid_of(job);
    ASSERT_EQ(own.missing.size(), 1U);
    EXPECT_EQ(own.missing.front(), "what the clamps take at each side of own");
    EXPECT_EQ(own.free_mm, Eigen::Vector2d(3000, 900));
}

TEST(Laying, NumbersByHand) {
    Job job = job_of();
    job.forming.machines = {machine_of_size("own", 2200, 500)};
    job.forming.machines.front().oven_length = mm(2030);
    job.forming.machine = "own";
    const auto number = [&](PlatenCheck check) {
        return platen_number(check, job.forming, piece_of(job), laid_of(job));
    };
    EXPECT_NEAR(*number(PlatenCheck::window).margin, 2150 - (k_length_mm + 2 * (k_trim_mm + k_clamp_mm)), 1e-9);
    EXPECT_NEAR(*number(PlatenCheck::depth).margin, 400 - (k_depth_mm + k_trim_mm), 1e-9);
    EXPECT_NEAR(*number(PlatenCheck::oven).margin, -10.0, 1e-9);
    EXPECT_NEAR(*number(PlatenCheck::gauge).margin, 3.0, 1e-9);
    // What is not known of the machine is missing in its own check alone.
    Machine& own = job.forming.machines.front();
    own.draw_depth.reset();
    EXPECT_EQ(number(PlatenCheck::depth).missing.size(), 1U);
    EXPECT_FALSE(number(PlatenCheck::depth).found);
    EXPECT_TRUE(number(PlatenCheck::window).missing.empty());
    own.oven_length.reset();
    EXPECT_EQ(number(PlatenCheck::oven).missing.size(), 1U);
    EXPECT_FALSE(number(PlatenCheck::oven).margin);
    own.oven_width = mm(200);  // Too narrow, whatever its length.
    EXPECT_NEAR(*number(PlatenCheck::oven).margin, 200 - (k_width_mm + 2 * (k_trim_mm + k_clamp_mm)), 1e-9);
    own.sheet_most.reset();
    EXPECT_EQ(number(PlatenCheck::gauge).missing.size(), 1U);
    job.skirt.pieces.front().sheet.reset();
    EXPECT_EQ(number(PlatenCheck::gauge).missing.size(), 2U);
}

}  // namespace
}  // namespace sillwright::core
