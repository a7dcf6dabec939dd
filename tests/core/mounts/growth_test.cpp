#include "core/mounts/growth.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <ostream>

#include "geometry/units.h"

namespace sillwright::core {
namespace {

using geometry::celsius;
using testing::ElementsAre;

constexpr double k_rounding = 1e-9;

Warmth warmth(double part, double body) {
    return {celsius(part), celsius(body), {}};
}

Job grown(const std::string& part, const std::string& body) {
    Job job;
    job.skirt.material.name = part;
    job.fitting.body_material = body;
    job.fitting.hot = warmth(80, 80);
    job.fitting.cold = warmth(-30, -30);
    job.fitting.fitted = warmth(20, 20);
    return job;
}

// s = (a_part - a_body) x dT, worked by hand from the table's expansions: ABS 90, PP 110, HDPE 120, GRP 27, steel
// 12e-6/K; +60 and -50 K from 20 °C.
struct GrowthCase {
    const char* part;
    double x, hot, cold;
};

void PrintTo(const GrowthCase& one, std::ostream* out) {
    *out << one.part << " on steel, " << one.x;
}

class GrowthOfParts : public testing::TestWithParam<GrowthCase> {};

TEST_P(GrowthOfParts, ByHand) {
    const GrowthCase& one = GetParam();
    const Growth found = growth(growth_rates(grown(one.part, "steel")), one.x);
    ASSERT_EQ(found.states.size(), 4U);
    EXPECT_EQ(found.states[0].state, "hot");
    EXPECT_NEAR(found.states[0].mm, one.hot, k_rounding);
    EXPECT_EQ(found.states[1].state, "cold");
    EXPECT_NEAR(found.states[1].mm, -one.cold, k_rounding);
    EXPECT_NEAR(found.states[2].mm, 0.0, k_rounding);
    EXPECT_EQ(found.states[3].state, "as drawn");
    EXPECT_NEAR(found.greatest_mm, one.hot, k_rounding);
    EXPECT_NEAR(found.least_mm, -one.cold, k_rounding);
    EXPECT_EQ(growth(growth_rates(grown(one.part, "steel")), -one.x).greatest_mm, found.greatest_mm);
}

INSTANTIATE_TEST_SUITE_P(OnSteel, GrowthOfParts,
                         testing::Values(GrowthCase{"ABS", 1000, 4.680, 3.900}, GrowthCase{"ABS", 1800, 8.424, 7.020},
                                         GrowthCase{"ABS", 900, 4.212, 3.510}, GrowthCase{"PP", 1000, 5.88, 4.90},
                                         GrowthCase{"HDPE", 1000, 6.48, 5.40}, GrowthCase{"GRP", 1000, 0.90, 0.75}));

// mayfieldplastics.com, tolerances: 20 in by 20 °F at 0.00005 per °F moves 0.020 in.
TEST(Growth, WorkedExampleOfAFormer) {
    Job job = grown("ABS", "steel");
    job.skirt.material.expansion_per_k = 0.00005 * 9.0 / 5.0;
    job.fitting.hot = warmth(20 + 20 * 5.0 / 9.0, 20);
    EXPECT_NEAR(growth(growth_rates(job), 20 * 25.4).greatest_mm, 0.020 * 25.4, k_rounding);
}

TEST(Growth, PartAndBodyHaveTemperaturesOfTheirOwn) {
    Job job = grown("ABS", "steel");
    job.fitting.hot = warmth(80, 40);
    // 1000 (90e-6 · 60 - 12e-6 · 20) = 5.4 - 0.24
    EXPECT_NEAR(growth(growth_rates(job), 1000).greatest_mm, 5.16, k_rounding);
}

TEST(Growth, SameMaterialsGrowAlike) {
    Job job = grown("ABS", "steel");
    job.skirt.material.expansion_per_k = 12e-6;
    EXPECT_NEAR(growth(growth_rates(job), 1000).greatest_mm, 0.0, k_rounding);
    EXPECT_NEAR(growth(growth_rates(job), 1000).least_mm, 0.0, k_rounding);
}

TEST(Growth, WhatIsNotKnownIsNamed) {
    const GrowthRates none = growth_rates(Job{});
    EXPECT_THAT(
        none.missing,
        ElementsAre("how much the skirt's material grows with warmth (choose it, or give a number)",
                    "what the body is made of", "the part's temperature when hot", "the body's temperature when hot",
                    "the part's temperature when cold", "the body's temperature when cold",
                    "the part's temperature when it is fitted", "the body's temperature when it is fitted"));
    ASSERT_EQ(none.states.size(), 1U);
    EXPECT_EQ(none.states[0].state, "as drawn");
    Job job = grown("ABS", "steel");
    job.fitting.cold->body.reset();
    const GrowthRates two = growth_rates(job);
    EXPECT_THAT(two.missing, ElementsAre("the body's temperature when cold"));
    EXPECT_EQ(two.states.size(), 3U);
}

}  // namespace
}  // namespace sillwright::core
