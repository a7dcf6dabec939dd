#include "core/handover/papers/door_sheet.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "core/number_text.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using paper_world::all_text;
using paper_world::cell_of;
using testing::HasSubstr;
using testing::Not;

TEST(DoorSheet, HasTheNumbersOfTheFindings) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = door_sheet(evaluation);
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    const Finding* const moving = find_finding(evaluation.findings, "swing/front door/moving");
    ASSERT_NE(moving, nullptr);
    EXPECT_EQ(cell_of(*paper, {"moving"}, "least gap, proven"), fixed_text(*moving->found, 2) + " mm");
    EXPECT_EQ(cell_of(*paper, {"moving"}, "needed"), "at least " + fixed_text(*moving->required, 2) + " mm");
    EXPECT_EQ(cell_of(*paper, {"moving"}, "where"), "5.9 · 1054 mm");
    EXPECT_EQ(cell_of(*paper, {"moving"}, "stands"), "holds");
}

TEST(DoorSheet, HasTheAxisSagAndOpening) {
    const std::string text = all_text(*door_sheet(paper_world::estate_a()));
    EXPECT_THAT(text, HasSubstr("lower hinge pin: along 210.0, out 118.0, up 385.0 mm"));
    // (5.6, -15.4, 400) of length 400.335...
    EXPECT_THAT(text, HasSubstr("direction of the axis: along 0.0140, out -0.0385, up 0.9992"));
    EXPECT_THAT(text, HasSubstr("opens to: 68.0°"));
    EXPECT_THAT(text, HasSubstr("sag off the striker: 1.50 mm down at 1000 mm from the hinge"));
    EXPECT_THAT(text, HasSubstr("travel past shut: 2.00 mm inboard at 900 mm"));
    EXPECT_THAT(text, HasSubstr("how sure the axis is: not known"));
}

TEST(DoorSheet, SaysHowSureAnAxisOfTheBookIs) {
    Job job = paper_world::sample_job("estate_a_measured");
    ASSERT_FALSE(job.book.hinges.empty());
    for (Door& door : job.doors) {
        door.hinge->from_book = door.name == job.book.hinges.front().door;
    }
    const auto evaluation = paper_world::evaluated(job);
    const auto kept = std::find_if(evaluation->car.doors.begin(), evaluation->car.doors.end(),
                                   [](const DoorModel& door) { return door.axis.has_value(); });
    ASSERT_NE(kept, evaluation->car.doors.end());
    const auto paper = door_sheet(*evaluation);
    paper_world::expect_sound(*paper);
    const double half = 1.96 * std::sqrt(kept->axis->covariance_mm2(1, 1));
    EXPECT_THAT(paper_world::value_of(*paper, "axis low down"), HasSubstr(", " + fixed_text(half, 2) + ", "));
    EXPECT_THAT(paper_world::value_of(*paper, "axis low down"), HasSubstr("mm (95 %)"));
}

TEST(DoorSheet, HasEveryPairInEveryCase) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = door_sheet(evaluation);
    std::size_t rows = 0;
    for (const Block& block : paper->blocks) {
        if (const auto* grid = std::get_if<Grid>(&block); grid != nullptr && grid->columns.front() == "what moves") {
            rows += grid->rows.size();
        }
    }
    EXPECT_EQ(rows, evaluation.outcomes.size());
    EXPECT_EQ(paper_world::figures(*paper, FigureKind::clearance).size(), 2U);
    EXPECT_EQ(paper_world::figures(*paper, FigureKind::clearance)[1]->name, "rear door");
    EXPECT_EQ(paper_world::figures(*paper, FigureKind::bars).size(), 1U);
}

TEST(DoorSheet, SaysWhatIsNotMeasuredAndHasNoFigureOfIt) {
    Job job = paper_world::sample_job("estate_a");
    job.doors.resize(1);
    job.doors[0].hinge.reset();
    job.doors[0].sag.reset();
    const auto paper = door_sheet(*paper_world::evaluated(job));
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    EXPECT_EQ(paper_world::value_of(*paper, "lower hinge pin"), "not measured");
    EXPECT_EQ(paper_world::value_of(*paper, "sag off the striker"), "not measured");
    EXPECT_TRUE(paper_world::figures(*paper, FigureKind::clearance).empty());
    EXPECT_FALSE(door_sheet(Evaluation{}));
}

}  // namespace
}  // namespace sillwright::core
