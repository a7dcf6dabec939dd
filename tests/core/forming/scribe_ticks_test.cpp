#include "core/forming/scribe_ticks.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/forming/chain_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

constexpr double k_rounding = 1e-9;

ScribeTicks ticks_of(const Job& job, double along = 1900, double across = 120) {
    return scribe_ticks(job, chain_of(job), millimetres(along), millimetres(across));
}

std::vector<std::string> names_of(const ScribeTicks& ticks) {
    std::vector<std::string> names;
    for (const TickLine& line : ticks.lines) {
        names.push_back(line.name);
    }
    return names;
}

TEST(ScribeTicks, ThreeAlongAndOneAcross) {
    EXPECT_THAT(names_of(ticks_of(chain_job())), ElementsAre("500 along", "1000 along", "1850 along", "100 across"));
    EXPECT_THAT(names_of(ticks_of(chain_job(), 950)), ElementsAre("300 along", "600 along", "900 along", "100 across"));
}

// By hand: 1000 · 0.998 = 998; 996.004; 990.028; limits twice the root of the sum of squares.
TEST(ScribeTicks, HaveWhatEachGenerationShouldShow) {
    const TickLine line = ticks_of(chain_job()).lines[1];
    ASSERT_THAT(line.sizes, SizeIs(4));
    EXPECT_EQ(line.sizes[0].generation, "plug");
    EXPECT_EQ(in_mm(line.sizes[0].expected), 1000.0);
    EXPECT_EQ(in_mm(line.sizes[0].limit), 0.0);
    EXPECT_NEAR(in_mm(line.sizes[1].expected), 998.0, k_rounding);
    EXPECT_NEAR(in_mm(line.sizes[1].limit), 2.0, k_rounding);
    EXPECT_NEAR(in_mm(line.sizes[2].expected), 996.004, k_rounding);
    EXPECT_NEAR(in_mm(line.sizes[3].expected), 990.027976, 1e-6);
    EXPECT_NEAR(in_mm(line.sizes[2].limit), 2.0 * 996.004 * std::sqrt(2.0) * 0.001 / 0.998, k_rounding);
}

TEST(ScribeTicks, TakeUpWhatWasMeasured) {
    Job job = chain_job();
    job.forming.generations[1].ticks = {tick("1000 along", 1000.1, 997.2, 0.2)};
    const TickLine line = ticks_of(job).lines[1];
    EXPECT_EQ(in_mm(*line.sizes[1].measured), 997.2);
    EXPECT_EQ(in_mm(*line.sizes[0].measured), 1000.1);
    EXPECT_FALSE(line.sizes[2].measured);
    EXPECT_NEAR(in_mm(line.sizes[2].expected), 1000.0 * 997.2 / 1000.1 * 0.998, k_rounding);
}

TEST(ScribeTicks, ListWithoutAPlugHasOneAllTheSameAndStopsWhereTheChainDoes) {
    Job job = chain_job();
    job.forming.generations.erase(job.forming.generations.begin());
    job.forming.generations[1].shrink_along.reset();
    const ScribeTicks ticks = ticks_of(job);
    EXPECT_EQ(ticks.lines[0].sizes[0].generation, "plug");
    EXPECT_THAT(ticks.lines[0].sizes, SizeIs(2));
    EXPECT_THAT(ticks.lines[3].sizes, SizeIs(4)) << "across all is known";
    EXPECT_THAT(ticks.missing, ElementsAre("shrinkage of male mould, along"));
}

TEST(ScribeTicks, NothingOnAPartShorterThanItsInsets) {
    EXPECT_THAT(ticks_of(chain_job(), 40, 15).lines, IsEmpty());
}

}  // namespace
}  // namespace sillwright::core
