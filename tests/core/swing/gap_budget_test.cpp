#include "core/swing/gap_budget.h"

#include <gmock/gmock.h>

#include <cmath>

#include "tests/core/swing/swing_world.h"

// required = asked + films + 2 sqrt(sum of squares), worked out here by hand.

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;
using swing_world::mm;
using testing::ElementsAre;
using testing::IsEmpty;

constexpr double k_rounding = 1e-12;

/// Paint 0.1, survey 0.3, forming 0.4; sag read 1000 from the hinge with 1.2.
Job known() {
    Job job = swing_world::upright(110);
    job.survey_sd = mm(0.3);
    job.skirt.forming_sd = mm(0.4);
    job.doors[0].sag->sd = mm(1.2);
    return job;
}

GapBudget budget_of(const Job& job, std::optional<geometry::Length> lever) {
    return gap_budget(job, job.doors[0], millimetres(5), lever);
}

TEST(GapBudget, OnTheStrikerWithoutSag) {
    const GapBudget budget = budget_of(known(), {});
    EXPECT_NEAR(in_mm(budget.required), 5 + 0.1 + 2 * 0.5, k_rounding);  // 0.3, 0.4, 0.5
    EXPECT_THAT(budget.missing, IsEmpty());
}

TEST(GapBudget, WithSag) {
    const GapBudget budget = budget_of(known(), millimetres(1000));
    EXPECT_NEAR(in_mm(budget.required), 5 + 0.1 + 2 * 1.3, k_rounding);  // 0.3, 0.4, 1.2: 1.3
}

TEST(GapBudget, SagCountsByItsLever) {
    // A quarter of the way from the hinge it is 0.3, at the hinge nothing.
    EXPECT_NEAR(in_mm(budget_of(known(), millimetres(250)).required), 5 + 0.1 + 2 * std::sqrt(0.09 + 0.16 + 0.09),
                k_rounding);
    EXPECT_NEAR(in_mm(budget_of(known(), millimetres(0)).required), 5 + 0.1 + 2 * 0.5, k_rounding);
}

TEST(GapBudget, ADoorPaintedAfterAddsAFilm) {
    Job job = known();
    job.doors[0].painted_after = true;
    EXPECT_NEAR(in_mm(budget_of(job, {}).required), 5 + 2 * 0.1 + 2 * 0.5, k_rounding);
}

TEST(GapBudget, TheAxisCountsWhereTheBookKnowsIt) {
    const GapBudget budget = gap_budget(known(), known().doors[0], millimetres(5), millimetres(1000), millimetres(8.4));
    EXPECT_NEAR(in_mm(budget.required), 5 + 0.1 + 2 * 8.5, k_rounding);  // 0.3, 0.4, 1.2 as above: 1.3; with 8.4: 8.5
    EXPECT_EQ(budget.inputs.back().name, "standard deviation of the hinge axis there");
}

TEST(GapBudget, WhatIsUnsureStandsLargestFirst) {
    std::vector<double> sds;
    for (const UnsureBy& part : budget_of(known(), millimetres(1000)).unsure_by) {
        sds.push_back(part.sd);
    }
    EXPECT_THAT(sds, ElementsAre(1.2, 0.4, 0.3));
}

TEST(GapBudget, WhatWentInIsListed) {
    const GapBudget budget = budget_of(known(), millimetres(1000));
    std::vector<std::string> inputs;
    for (const Input& input : budget.inputs) {
        inputs.push_back(input.name + ": " + input.value);
    }
    EXPECT_THAT(inputs,
                ElementsAre("gap asked for: 5.00 mm", "paint film on the skirt: 0.10 mm",
                            "standard deviation of the survey: 0.30 mm", "standard deviation of forming: 0.40 mm",
                            "standard deviation of the sag there: 1.20 mm"));
}

TEST(GapBudget, MissingPartsAreNamedAndTheRestCounts) {
    Job job = known();
    job.skirt.paint.reset();
    job.doors[0].painted_after = true;
    job.skirt.forming_sd.reset();
    job.doors[0].sag->sd.reset();
    const GapBudget budget = budget_of(job, millimetres(1000));
    EXPECT_NEAR(in_mm(budget.required), 5 + 2 * 0.3, k_rounding);
    EXPECT_THAT(budget.missing, ElementsAre("paint film on the skirt", "paint film on the door",
                                            "standard deviation of forming", "standard deviation of the sag there"));
    job.survey_sd.reset();
    job.doors[0].sag.reset();
    EXPECT_NEAR(in_mm(budget_of(job, millimetres(1000)).required), 5, k_rounding);
    EXPECT_EQ(budget_of(job, millimetres(1000)).missing.size(), 5U);
    EXPECT_EQ(budget_of(job, {}).missing.size(), 4U) << "no sag on the striker";
}

TEST(GapBudget, ZeroIsMeasured) {
    Job job = known();
    job.skirt.paint = mm(0);
    EXPECT_THAT(budget_of(job, {}).missing, IsEmpty());
    EXPECT_NEAR(in_mm(budget_of(job, {}).required), 5 + 2 * 0.5, k_rounding);
}

}  // namespace
}  // namespace sillwright::core
