#include "core/handover/papers/open_points.h"

#include <gmock/gmock.h>

#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

std::vector<std::string> all_words(const Evaluation& evaluation) {
    return open_words(open_points(evaluation), {Stage::measure, Stage::sections, Stage::mounts, Stage::swing,
                                                Stage::forming, Stage::buck, Stage::handover});
}

TEST(OpenPoints, SayWhatEstateAAssumes) {
    const auto all = all_words(paper_world::estate_a());
    EXPECT_THAT(all, Contains(HasSubstr("the locator is proposed")));
    EXPECT_THAT(all, Contains(HasSubstr("hinge axis of front door is taken as typed")));
    EXPECT_THAT(all, Contains(HasSubstr("how thick it is when it is formed is computed")));
    EXPECT_THAT(all, Contains(HasSubstr("nothing here is for the left side")));
    EXPECT_THAT(all, Contains(HasSubstr("The density of ABS is the usual one, 1050 kg/m³")));
    EXPECT_THAT(all, Contains(HasSubstr("The expansion of ABS is the usual one, 90 millionths")));
    EXPECT_THAT(all, Contains(HasSubstr("sheet: what it shrinks by along is assumed")));
}

TEST(OpenPoints, GoAwayOnceTheyAreDecided) {
    Evaluation evaluation = paper_world::estate_a();
    evaluation.plan.locator_proposed = false;
    evaluation.job.other_hand = "left.sillwright";
    evaluation.job.skirt.material.density_kg_per_m3 = 1040.0;
    const auto all = all_words(evaluation);
    EXPECT_THAT(all, Not(Contains(HasSubstr("the locator is proposed"))));
    EXPECT_THAT(all, Not(Contains(HasSubstr("for the left side"))));
    EXPECT_THAT(all, Not(Contains(HasSubstr("The density"))));
}

TEST(OpenPoints, SayWhatIsMissingOnceWithAllThatWaitsForIt) {
    Evaluation evaluation;
    evaluation.job.other_hand = "other";
    evaluation.job.survey_sd = evaluation.job.zero_to_midplane = Entry{};
    evaluation.job.skirt.paint = evaluation.job.skirt.forming_sd = Entry{};
    for (const Stage stage : {Stage::swing, Stage::mounts, Stage::swing}) {
        Finding finding;
        finding.stage = stage;
        finding.title = stage == Stage::swing ? "the gap" : "the grip";
        finding.missing = {"the sheet"};
        evaluation.findings.push_back(finding);
    }
    const auto points = open_points(evaluation);
    ASSERT_EQ(points.size(), 1U);
    EXPECT_EQ(points[0].words, "Not measured: the sheet. It leaves open: the grip, and 2 more.");
    EXPECT_FALSE(points[0].assumed);
    EXPECT_THAT(open_words(points, {Stage::forming}), testing::IsEmpty());
    EXPECT_EQ(open_words(points, {Stage::swing}).size(), 1U);
    EXPECT_EQ(open_words(points, {Stage::mounts}).size(), 1U);
}

}  // namespace
}  // namespace sillwright::core
