#include "core/handover/papers/moulder_sheet.h"

#include <gmock/gmock.h>

#include "core/forming/forming_plan.h"
#include "core/number_text.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

TEST(MoulderSheet, HasTheNumbersOfThePlan) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = moulder_sheet(evaluation);
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    const PieceForming& piece = evaluation.forming->pieces.at(0);
    EXPECT_EQ(paper_world::value_of(*paper, "tilt, up from straight outward"), degree_text(piece.draw.tilt, 1));
    EXPECT_EQ(paper_world::value_of(*paper, "sheet, cut to"),
              fixed_text(geometry::in_mm(piece.blank.length), 0) + " × " +
                  fixed_text(geometry::in_mm(piece.blank.width), 0) + " mm");
    EXPECT_EQ(paper_world::value_of(*paper, "machine"), evaluation.job.forming.machine);
    EXPECT_EQ(paper_world::value_of(*paper, "height of the mould"), mm_text(piece.platen.height));
    EXPECT_EQ(paper_world::figures(*paper, FigureKind::platen).size(), 1U);
    EXPECT_EQ(paper_world::figures(*paper, FigureKind::thickness).size(), 1U);
}

TEST(MoulderSheet, HasNoFigureOfAThicknessThatIsNotComputed) {
    Job job = paper_world::sample_job("estate_a");
    job.forming.mould.reset();
    const auto paper = moulder_sheet(*paper_world::evaluated(job));
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    EXPECT_TRUE(paper_world::figures(*paper, FigureKind::thickness).empty());
    EXPECT_EQ(paper_world::value_of(*paper, "mould"), "not decided");
    EXPECT_FALSE(moulder_sheet(Evaluation{}));
}

}  // namespace
}  // namespace sillwright::core
