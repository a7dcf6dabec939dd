#include "core/handover/papers/buck_pack.h"

#include <gmock/gmock.h>

#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using paper_world::all_text;
using paper_world::cell_of;
using paper_world::value_of;
using testing::HasSubstr;
using testing::Not;

Evaluation with_buck() {
    Evaluation evaluation = paper_world::estate_a();
    BuckPlan plan;
    plan.pieces = {paper_world::hand_buck()};
    evaluation.buck = std::make_shared<const BuckPlan>(plan);
    evaluation.job.buck = {};
    evaluation.job.buck.bit = "flat 6";
    Board board;
    board.name = "mdf 12";
    board.length = Entry{geometry::millimetres(2440.0), ""};
    board.width = Entry{geometry::millimetres(1220.0), ""};
    board.thickness_1 = Entry{geometry::millimetres(11.9), ""};
    board.thickness_2 = Entry{geometry::millimetres(12.0), ""};
    board.price = 30.0;
    evaluation.job.buck.boards = {board};
    return evaluation;
}

BuckWork some_work() {
    BuckWork work;
    for (const char* label : {"R1", "R2", "R3", "S1"}) {
        CutPart part;
        part.label = label;
        part.board = "mdf 12";
        part.outline = paper_world::box_profile(-60.0, 50.0, 90.0);
        part.holes = {{{-20.0, 60.0}, 6.0, "datum rod 1"}};
        work.parts.push_back(part);
    }
    NestedSheet sheet;
    sheet.board = "mdf 12";
    sheet.number = 1;
    sheet.parts = {{0, {}, {100.0, 20.0}}, {1, {}, {300.0, 20.0}}, {3, {}, {500.0, 20.0}}};
    sheet.left_mm = {1900.0, 1200.0};
    work.nesting.sheets = {sheet};
    work.nesting.left_out = {2};
    work.nesting.least_sheets = 1;
    work.nesting.gap_mm = 8.0;
    return work;
}

TEST(BuckPack, HasRibsSpinesChecksAndBevels) {
    const auto paper = buck_pack(with_buck(), some_work());
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    EXPECT_EQ(cell_of(*paper, {"R2"}, "x of its face, mm"), "402.4");
    EXPECT_EQ(cell_of(*paper, {"R2"}, "place, mm"), "between stations, along 400.0");
    EXPECT_EQ(cell_of(*paper, {"R3"}, "place, mm"), "station 3, along 800.0");
    EXPECT_EQ(cell_of(*paper, {"R3"}, "that face"), "rear");
    EXPECT_EQ(cell_of(*paper, {"R3"}, "side × height, mm"), "112.0 × 92.0");
    EXPECT_EQ(cell_of(*paper, {"R1"}, "slots, mm"), "12.08 wide, 40.5 deep at 5.0");
    EXPECT_EQ(cell_of(*paper, {"R1"}, "on"), "mdf 12, sheet 1");
    EXPECT_EQ(cell_of(*paper, {"R3"}, "on"), "mdf 12, not nested");
    EXPECT_EQ(cell_of(*paper, {"S1"}, "height, mm"), "60.0");
    EXPECT_EQ(cell_of(*paper, {"R1 rod 1", "R3 rod 2"}, "distance, mm"), "805.8");
    EXPECT_EQ(cell_of(*paper, {"R1", "1.5° to 0.5°, 0.31"}, "bead to knee"), "1.5° to 0.5°, 0.31");
    EXPECT_EQ(cell_of(*paper, {"R2", "none"}, "bead to knee"), "none");  // too small to be one
    EXPECT_EQ(cell_of(*paper, {"R1", "datum rod 1"}, "diameter, mm"), "6.0");
}

TEST(BuckPack, HasAssemblySheetsAndWhatToBuy) {
    const auto paper = buck_pack(with_buck(), some_work());
    const std::string text = all_text(*paper);
    EXPECT_THAT(text, HasSubstr("Put the ribs on from the front: R1, R2, R3."));
    EXPECT_THAT(text, HasSubstr("stands off it by 4.0 mm at least (R1 the wrong way round in the place of R2)"));
    EXPECT_THAT(text, HasSubstr("2 datum rods of 6.0 mm"));
    EXPECT_THAT(text, HasSubstr("R3 is on no sheet"));
    EXPECT_EQ(value_of(*paper, "sheets used"), "1");
    EXPECT_EQ(value_of(*paper, "no nest can need fewer than"), "1");
    EXPECT_THAT(value_of(*paper, "bit that cuts out"), HasSubstr("flat 6; lines in the files are finished edges"));
    EXPECT_EQ(cell_of(*paper, {"mdf 12"}, "measured 1, mm"), "11.90");
    EXPECT_EQ(cell_of(*paper, {"mdf 12"}, "measured 3, mm"), "");  // a box to fill
    EXPECT_EQ(cell_of(*paper, {"mdf 12", "1"}, "price"), "30.00");
    EXPECT_EQ(cell_of(*paper, {"datum rod"}, "how many"), "2");
    EXPECT_EQ(paper_world::figures(*paper, FigureKind::drawing).size(), 2U);  // assembly, one sheet
}

TEST(BuckPack, IsNotThereWithoutABuck) {
    Evaluation evaluation = paper_world::estate_a();
    evaluation.buck = nullptr;
    EXPECT_FALSE(buck_pack(evaluation, {}));
    evaluation.buck = std::make_shared<const BuckPlan>();
    EXPECT_FALSE(buck_pack(evaluation, {}));
    PieceBuck lacking;
    lacking.missing = {"the skin of the plug"};
    BuckPlan plan;
    plan.pieces = {lacking};
    evaluation.buck = std::make_shared<const BuckPlan>(plan);
    EXPECT_FALSE(buck_pack(evaluation, {}));
}

TEST(BuckPack, IsThereBeforeAnythingIsNested) {
    const auto paper = buck_pack(with_buck(), {});
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    EXPECT_EQ(cell_of(*paper, {"R1"}, "on"), "not nested");
    EXPECT_THAT(all_text(*paper), Not(HasSubstr("sheets used")));
}

}  // namespace
}  // namespace sillwright::core
