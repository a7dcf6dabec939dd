#include "core/handover/papers/survey_copy.h"

#include <gmock/gmock.h>

#include <cmath>

#include "core/number_text.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using testing::HasSubstr;

TEST(SurveyCopy, IsThereOnlyWithABook) {
    EXPECT_FALSE(survey_copy(paper_world::estate_a()));
    EXPECT_TRUE(survey_copy(paper_world::sample("estate_a_measured")));
}

TEST(SurveyCopy, HasEveryPointWithItsNinetyFivePercent) {
    const Evaluation& evaluation = paper_world::sample("estate_a_measured");
    const auto paper = survey_copy(evaluation);
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    for (const survey::PlacedPoint& point : evaluation.survey->solution.points) {
        EXPECT_EQ(paper_world::cell_of(*paper, {point.name}, "out, mm"), fixed_text(point.at_mm.y(), 2)) << point.name;
    }
    const survey::PlacedPoint* const hole = evaluation.survey->solution.find("H1");
    ASSERT_NE(hole, nullptr);
    EXPECT_EQ(paper_world::cell_of(*paper, {"H1"}, "± mm"),
              fixed_text(1.96 * std::sqrt(hole->covariance_mm2(0, 0)), 2));
    EXPECT_EQ(paper_world::figures(*paper, FigureKind::network).size(), 1U);
}

TEST(SurveyCopy, TellsDroppedReadingsAndWhy) {
    Evaluation evaluation = paper_world::sample("estate_a_measured");
    auto results = std::make_shared<survey::Results>(*evaluation.survey);
    results->solution.readings[3].use = survey::ReadingUse::dropped;
    evaluation.job.book.readings[3].dropped = "read from the hook";
    evaluation.survey = results;
    EXPECT_THAT(paper_world::all_text(*survey_copy(evaluation)), HasSubstr("dropped: read from the hook"));
}

TEST(SurveyCopy, ListsTheWorstReadingFirst) {
    const Evaluation& evaluation = paper_world::sample("estate_a_measured");
    double worst = 0.0;
    for (const survey::ReadingResult& reading : evaluation.survey->solution.readings) {
        for (const survey::AdjustedNumber& number : reading.numbers) {
            worst = reading.use == survey::ReadingUse::used ? std::max(worst, number.w.value_or(0.0)) : worst;
        }
    }
    const auto paper = survey_copy(evaluation);
    for (const Block& block : paper->blocks) {
        if (const auto* grid = std::get_if<Grid>(&block); grid != nullptr && grid->columns.front() == "reading") {
            EXPECT_EQ(grid->rows.front().back(), fixed_text(worst, 2));
            return;
        }
    }
    FAIL() << "no table of readings";
}

}  // namespace
}  // namespace sillwright::core
