#include "core/handover/papers/work_report.h"

#include <gmock/gmock.h>

#include <set>

#include "core/finding_words.h"
#include "core/handover/papers/open_points.h"
#include "core/number_text.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using paper_world::all_text;
using paper_world::cell_of;
using testing::HasSubstr;

TEST(WorkReport, HasEveryFindingOnce) {
    const Evaluation& evaluation = paper_world::estate_a();
    const Document paper = work_report(evaluation, {});
    paper_world::expect_sound(paper);
    std::multiset<std::string> titles;
    for (const Block& block : paper.blocks) {
        if (const auto* grid = std::get_if<Grid>(&block); grid != nullptr && grid->columns.front() == "finding") {
            for (const auto& row : grid->rows) {
                titles.insert(row.front());
            }
        }
    }
    EXPECT_EQ(titles.size(), evaluation.findings.size());
    for (const Finding& finding : evaluation.findings) {
        EXPECT_EQ(cell_of(paper, {finding.title}, "stands"), look(finding.state).word) << finding.id;
        EXPECT_EQ(cell_of(paper, {finding.title}, "margin"), cells_of(finding).margin) << finding.id;
        EXPECT_THAT(cell_of(paper, {finding.title}, "why, and what would mend it"), HasSubstr(finding.why));
    }
}

TEST(WorkReport, CountsByStageAndAll) {
    const Evaluation& evaluation = paper_world::estate_a();
    const Document paper = work_report(evaluation, {});
    EXPECT_EQ(cell_of(paper, {"all stages"}, "all"), std::to_string(evaluation.findings.size()));
    const auto swings = std::count_if(evaluation.findings.begin(), evaluation.findings.end(),
                                      [](const Finding& finding) { return finding.stage == Stage::swing; });
    EXPECT_EQ(cell_of(paper, {"Swing"}, "all"), std::to_string(swings));
    EXPECT_THAT(all_text(paper), HasSubstr(count_sentence(evaluation.findings)));
}

TEST(WorkReport, HasEveryOpenPoint) {
    const Evaluation& evaluation = paper_world::sample("measuring_book");
    const std::string text = all_text(work_report(evaluation, {}));
    const auto points = open_points(evaluation);
    EXPECT_GT(points.size(), 3U);
    for (const OpenPoint& point : points) {
        EXPECT_THAT(text, HasSubstr(point.words));
    }
}

TEST(WorkReport, SaysThatNothingIsOpen) {
    Evaluation evaluation;
    evaluation.job.other_hand = "other";
    evaluation.job.survey_sd = evaluation.job.zero_to_midplane = Entry{};
    evaluation.job.skirt.paint = evaluation.job.skirt.forming_sd = Entry{};
    const Document paper = work_report(evaluation, {});
    EXPECT_THAT(all_text(paper), HasSubstr("Nothing is assumed that the program knows of."));
    EXPECT_THAT(all_text(paper), HasSubstr("Nothing that a check waits for."));
}

TEST(WorkReport, HasSheetsAndPricesAsEntered) {
    Evaluation evaluation = paper_world::estate_a();
    Board board;
    board.name = "mdf 12";
    board.price = 30.0;
    evaluation.job.buck.boards = {board};
    BuckWork work;
    work.nesting.sheets.resize(2);
    work.nesting.sheets[0].board = work.nesting.sheets[1].board = "mdf 12";
    const Document paper = work_report(evaluation, work);
    EXPECT_EQ(cell_of(paper, {"board mdf 12"}, "how much"), "2 sheets");
    EXPECT_EQ(cell_of(paper, {"board mdf 12"}, "price"), "60.00");
    EXPECT_NE(cell_of(paper, {"sheet for skirt, ABS"}, "how much"), "");
}

}  // namespace
}  // namespace sillwright::core
