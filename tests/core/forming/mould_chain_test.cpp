#include "core/forming/mould_chain.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "geometry/seeded_draw.h"
#include "tests/core/forming/chain_world.h"

namespace sillwright::core {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

constexpr double k_rounding = 1e-12;

/// 1 / (ratio · 1800), to a thousandth: as the reference values write it.
double plug_of_1800(const Job& job) {
    return 1800.0 / chain_size(chain_of(job), false).ratio;
}

// Reference values, section 8.1 (computed there by hand): 1800 / 0.994 and 1800 / (0.998 · 0.998 · 0.994).
TEST(MouldChain, HasThePublishedSizes) {
    Job job = chain_job();
    EXPECT_NEAR(plug_of_1800(job), 1818.130, 5e-4);
    job.forming.generations = {plug(), generation("sheet", GenerationKind::sheet, 0.006, 0.001)};
    EXPECT_NEAR(plug_of_1800(job), 1810.865, 5e-4);
    // The short form L (1 + s) is 0.065 less: the difference is told there too.
    EXPECT_NEAR(plug_of_1800(job) - 1800.0 * 1.006, 0.065, 5e-4);
}

TEST(MouldChain, StepsFollowTheListAndAPlugThatStandsFirstHasNone) {
    const auto chain = chain_of(chain_job());
    ASSERT_EQ(chain.size(), 4U);
    EXPECT_EQ(chain[0].along, 1.0);
    EXPECT_THAT(chain[0].missing, IsEmpty());
    EXPECT_NEAR(chain[3].along, 0.994, k_rounding);
    EXPECT_NEAR(chain[3].across_sd, 0.001, k_rounding);
    EXPECT_FALSE(chain[3].measured_along);
    Job job = chain_job();
    job.forming.generations.erase(job.forming.generations.begin());
    EXPECT_NEAR(chain_size(chain_of(job), true).ratio, chain_size(chain, true).ratio, k_rounding);
}

TEST(MouldChain, AnEmptyListAndOneWithoutASheetAreMissing) {
    Job job = chain_job();
    job.forming.generations.pop_back();
    EXPECT_THAT(chain_size(chain_of(job), false).missing,
                ElementsAre("the sheet, as the last generation of the mould chain"));
    job.forming.generations.clear();
    EXPECT_THAT(chain_size(chain_of(job), false).missing, ElementsAre("the mould chain, from the plug to the sheet"));
}

TEST(MouldChain, WhatIsNotGivenIsMissingAndNeverZero) {
    Job job = chain_job();
    job.forming.generations[1].shrink_along.reset();
    job.forming.generations[3].shrink_sd.reset();
    const auto chain = chain_of(job);
    EXPECT_THAT(chain[1].missing_along, ElementsAre("shrinkage of female mould, along"));
    EXPECT_THAT(chain[1].missing_across, IsEmpty());
    EXPECT_THAT(chain[3].missing, ElementsAre("standard deviation of the shrinkage of sheet"));
    EXPECT_THAT(chain_size(chain, true).missing, ElementsAre("standard deviation of the shrinkage of sheet"));
    EXPECT_EQ(chain_size(chain, false).missing.size(), 2U);
}

// By hand: 60 K above 20 °C at 25e-6: the hot mould is 1.0015 of the cold one; (1 - 0.006) · 1.0015 = 0.995491.
TEST(MouldChain, GrowthCountsOnceAndOnlyWhereShrinkageIsQuotedFromTheHotMould) {
    Job job = chain_job();
    Generation& sheet = job.forming.generations[3];
    sheet.hot = geometry::celsius(80);
    sheet.expansion_per_k = 25e-6;
    EXPECT_NEAR(chain_of(job)[3].along, 0.994, k_rounding) << "cold mould to part";
    EXPECT_NEAR(*chain_of(job)[3].hot_growth, 1.0015, k_rounding);
    sheet.from_hot = true;
    EXPECT_NEAR(chain_of(job)[3].along, 0.995491, k_rounding);
    EXPECT_NEAR(chain_of(job)[3].along_sd, 0.001 * 1.0015, k_rounding);
    // Ticks measured cold to cold have it in them already.
    sheet.ticks = {tick("1000 along", 1000.0, 995.0, 0.1)};
    EXPECT_NEAR(chain_of(job)[3].along, 0.995, k_rounding);
    EXPECT_NEAR(chain_of(job)[3].across, 0.995491, k_rounding) << "no tick across: as assumed";
    sheet.expansion_per_k.reset();
    EXPECT_THAT(chain_of(job)[3].missing_along, IsEmpty());
    EXPECT_THAT(chain_of(job)[3].missing_across, ElementsAre("expansion of the hot mould that sheet is taken off"));
}

TEST(MouldChain, ADifferentDrawnTemperatureChangesTheGrowth) {
    Job job = chain_job();
    job.fitting.drawn = geometry::celsius(30);
    Generation& sheet = job.forming.generations[3];
    sheet.hot = geometry::celsius(80);
    sheet.expansion_per_k = 25e-6;
    EXPECT_NEAR(*chain_of(job)[3].hot_growth, 1.00125, k_rounding);
}

TEST(MouldChain, MeasuredTicksReplaceOnlyTheirDirection) {
    Job job = chain_job();
    job.forming.generations[1].ticks = {tick("1000 along", 1000.0, 997.0, 0.2)};
    const ChainStep step = chain_of(job)[1];
    EXPECT_TRUE(step.measured_along);
    EXPECT_FALSE(step.measured_across);
    EXPECT_NEAR(step.along, 0.997, k_rounding);
    EXPECT_NEAR(step.across, 0.998, k_rounding);
    // One tick, by hand: sqrt(0.2² / 1000² + (997 · 0.2 / 1000²)²).
    EXPECT_NEAR(step.along_sd, std::hypot(0.2e-3, 0.997 * 0.2e-3), k_rounding);
    EXPECT_NEAR(assumed_chain(job)[1].along, 0.998, k_rounding);
}

TEST(MouldChain, ATickWithoutItsDeviationIsAskedFor) {
    Job job = chain_job();
    Tick unsure = tick("500 along", 500.0, 499.0, 1.0);
    unsure.sd.reset();
    Tick planned = tick("1000 along", 1000.0, 998.0, 0.2);
    planned.now.reset();
    job.forming.generations[1].ticks = {unsure, planned};
    const ChainStep step = chain_of(job)[1];
    EXPECT_FALSE(step.measured_along);
    EXPECT_THAT(step.missing, ElementsAre("standard deviation of tick 500 along of female mould"));
}

TEST(MouldSize, OfTheLastStepByHand) {
    Job job = chain_job();
    MouldSize size = mould_size(chain_of(job));
    EXPECT_NEAR(size.along, 1.0 / 0.994, k_rounding);
    EXPECT_NEAR(size.along_sd, 0.001 / (0.994 * 0.994), k_rounding);
    EXPECT_TRUE(size.known_along && size.known_across);
    EXPECT_FALSE(size.is_hot);
    Generation& sheet = job.forming.generations.back();
    sheet.hot = geometry::celsius(geometry::in_celsius(job.fitting.drawn) + 45.0);
    sheet.expansion_per_k = 25e-6;
    EXPECT_NEAR(mould_size(chain_of(job)).across, 1.001125 / 0.994, k_rounding);
    EXPECT_TRUE(mould_size(chain_of(job)).is_hot);
    // Quoted from the hot mould, the growth cancels: hot mould · (1 - s) is the cold part.
    sheet.from_hot = true;
    EXPECT_NEAR(mould_size(chain_of(job)).along, 1.0 / 0.994, k_rounding);
    sheet.shrink_across.reset();
    size = mould_size(chain_of(job));
    EXPECT_TRUE(size.known_along);
    EXPECT_FALSE(size.known_across);
    EXPECT_EQ(size.across, 1.0);
    job.forming.generations.pop_back();
    EXPECT_FALSE(mould_size(chain_of(job)).known_along) << "a mould, not a sheet, is last";
    EXPECT_FALSE(mould_size({}).known_along);
}

/// Sum of (now - r before)² / (sd² (1 + r²)).
double misfit(const Generation& one, double ratio) {
    double sum = 0.0;
    for (const Tick& each : one.ticks) {
        if (each.across) {
            continue;
        }
        const double off = geometry::in_mm(each.now->value) - ratio * geometry::in_mm(each.before->value);
        sum += off * off / (std::pow(geometry::in_mm(each.sd->value), 2) * (1.0 + ratio * ratio));
    }
    return sum;
}

TEST(TickRatio, IsTheLeastOfItsSumAndNoOrderMatters) {
    Generation one = generation("female mould", GenerationKind::female, 0.002, 0.001);
    one.ticks = {tick("a", 500.0, 498.7, 0.3), tick("b", 1000.0, 998.1, 0.2), tick("c", 1812.0, 1808.9, 0.5),
                 tick("d", 80.0, 79.7, 0.1, true)};
    const auto found = ratio_of_ticks(one, false);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->ticks, 3U);
    for (const double step : {1e-6, 1e-5, 1e-4}) {
        EXPECT_LT(misfit(one, found->ratio), misfit(one, found->ratio + step) + 1e-9);
        EXPECT_LT(misfit(one, found->ratio), misfit(one, found->ratio - step) + 1e-9);
    }
    std::swap(one.ticks[0], one.ticks[2]);
    EXPECT_NEAR(ratio_of_ticks(one, false)->ratio, found->ratio, k_rounding);
    EXPECT_EQ(found->worst, "a") << "0.38 mm of 0.3 · sqrt 2, by hand";
    one.ticks.resize(1);
    EXPECT_EQ(ratio_of_ticks(one, false)->worst_misfit, 0.0) << "a single tick is checked by nothing";
}

TEST(TickRatio, ItsDeviationIsThatOfManyReadings) {
    // 20 000 sets of readings of 500, 1000 and 1800 mm on a mould of 0.9975.
    constexpr double k_true = 0.9975;
    constexpr int k_draws = 20000;
    geometry::SeededDraw draw(5, 1);
    double sum = 0.0, squares = 0.0, told = 0.0;
    for (int i = 0; i < k_draws; ++i) {
        Generation one = generation("mould", GenerationKind::female, 0.002, 0.001);
        for (const auto& [length, sd] : {std::pair{500.0, 0.2}, {1000.0, 0.3}, {1800.0, 0.4}}) {
            one.ticks.push_back(
                tick(std::to_string(length), length + sd * draw.normal(), k_true * length + sd * draw.normal(), sd));
        }
        const auto found = ratio_of_ticks(one, false);
        sum += found->ratio - k_true;
        squares += (found->ratio - k_true) * (found->ratio - k_true);
        told = found->sd;
    }
    const double sd = std::sqrt(squares / k_draws);
    EXPECT_NEAR(told, sd, 0.03 * sd);
    EXPECT_NEAR(sum / k_draws, 0.0, 4.0 * sd / std::sqrt(k_draws));
}

TEST(ChainSize, RelativeDeviationsAddBySquares) {
    const ChainSize size = chain_size(chain_of(chain_job()), false);
    EXPECT_NEAR(size.ratio, 0.998 * 0.998 * 0.994, k_rounding);
    const double relative = std::sqrt(2.0 * std::pow(0.001 / 0.998, 2) + std::pow(0.001 / 0.994, 2));
    EXPECT_NEAR(size.sd, size.ratio * relative, k_rounding);
}

}  // namespace
}  // namespace sillwright::core
