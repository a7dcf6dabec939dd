#include "core/handover/papers/ladder_sheet.h"

#include <gmock/gmock.h>

#include "core/forming/forming_plan.h"
#include "core/number_text.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;

TEST(LadderSheet, HasEveryRung) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = ladder_sheet(evaluation);
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    ASSERT_FALSE(evaluation.forming->pieces.at(0).ladders.empty());
    for (const LadderOf& ladder : evaluation.forming->pieces[0].ladders) {
        for (const Rung& rung : ladder.rungs) {
            const std::string cell = paper_world::cell_of(*paper, {ladder.dimension.name}, rung.generation);
            EXPECT_TRUE(
                cell.starts_with(fixed_text(in_mm(rung.value), 2) + " ± " + fixed_text(2.0 * in_mm(rung.sd), 2)))
                << ladder.dimension.name << " " << rung.generation << ": " << cell;
        }
    }
}

TEST(LadderSheet, HasABoxForEveryTickThatIsNotMeasured) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = ladder_sheet(evaluation);
    for (const TickLine& line : evaluation.forming->pieces.at(0).ticks.lines) {
        for (const TickSize& size : line.sizes) {
            EXPECT_EQ(paper_world::cell_of(*paper, {line.name, size.generation}, "expected, mm"),
                      fixed_text(in_mm(size.expected), 2));
            EXPECT_EQ(paper_world::cell_of(*paper, {line.name, size.generation}, "measured, mm"),
                      size.measured ? fixed_text(in_mm(*size.measured), 2) : "");
        }
    }
    for (const Block& block : paper->blocks) {
        if (const auto* grid = std::get_if<Grid>(&block); grid != nullptr && grid->columns.front() == "ticks") {
            EXPECT_EQ(grid->boxes, std::vector<std::size_t>{4});
            EXPECT_EQ(grid->columns.at(4), "measured, mm");
            return;
        }
    }
    FAIL() << "no ticks";
}

TEST(LadderSheet, IsNotThereWithoutAChain) {
    Job job = paper_world::sample_job("estate_a");
    job.forming.generations.clear();
    EXPECT_FALSE(ladder_sheet(*paper_world::evaluated(job)));
    EXPECT_FALSE(ladder_sheet(Evaluation{}));
}

}  // namespace
}  // namespace sillwright::core
