#include "core/handover/papers/section_sheets.h"

#include <gmock/gmock.h>

#include "core/drawn_loft.h"
#include "core/number_text.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;

TEST(SectionSheets, HaveEveryStationWithItsNodes) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = section_sheets(evaluation);
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    const auto figures = paper_world::figures(*paper, FigureKind::section);
    const Piece& piece = evaluation.job.skirt.pieces.front();
    ASSERT_EQ(figures.size(), piece.drawn.sections.size());
    for (std::size_t s = 0; s < figures.size(); ++s) {
        const Section& section = piece.drawn.sections[s];
        EXPECT_EQ(figures[s]->along, station_of(evaluation.job, section.station).along.value);
        EXPECT_LE(figures[s]->height_share, 0.25);
    }
    // Tables of points stand in the order of the stations.
    std::size_t station = 0;
    for (const Block& block : paper->blocks) {
        const auto* grid = std::get_if<Grid>(&block);
        if (grid == nullptr || grid->columns.front() != "point") {
            continue;
        }
        const Section& section = piece.drawn.sections.at(station++);
        ASSERT_EQ(grid->rows.size(), section.nodes.size());
        for (std::size_t n = 0; n < section.nodes.size(); ++n) {
            EXPECT_EQ(grid->rows[n][0], section.nodes[n].name);
            EXPECT_EQ(grid->rows[n][1], fixed_text(in_mm(section.nodes[n].out.value), 1));
            EXPECT_EQ(grid->rows[n][2], fixed_text(in_mm(section.nodes[n].up.value), 1));
        }
    }
    EXPECT_EQ(station, piece.drawn.sections.size());
}

TEST(SectionSheets, HaveTheSheetAsFormedAndTheDraft) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = section_sheets(evaluation);
    const PieceModel& model = evaluation.car.pieces.front();
    const auto names = model.line->names();
    const auto knee = std::find(names.begin(), names.end(), "knee") - names.begin();
    EXPECT_EQ(paper_world::cell_of(*paper, {"knee"}, "sheet there, mm"),
              fixed_text(in_mm(model.formed->thickness_at(model.line->front(), static_cast<double>(knee))), 2));
    EXPECT_NE(paper_world::cell_of(*paper, {"bead"}, "draft to the next"), "");
    EXPECT_EQ(paper_world::cell_of(*paper, {"flange end"}, "draft to the next"), "");
}

TEST(SectionSheets, AreNotThereWithoutADrawnPiece) {
    EXPECT_FALSE(section_sheets(Evaluation{}));
    EXPECT_FALSE(section_sheets(paper_world::sample("measuring_book")));
}

}  // namespace
}  // namespace sillwright::core
