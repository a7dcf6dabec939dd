#include "core/forming/forming_sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

using geometry::degrees;
using geometry::millimetres;
using testing::HasSubstr;

/// A plan made by hand: nothing of it is computed here.
FormingPlan plan() {
    FormingPlan plan;
    ChainStep sheet;
    sheet.name = "sheet";
    sheet.kind = GenerationKind::sheet;
    sheet.along = sheet.across = 0.994;
    sheet.along_sd = sheet.across_sd = 0.001;
    plan.chain = {ChainStep{}, sheet};
    PieceForming piece;
    piece.draw.tilt = degrees(-2.5);
    piece.draw.strips = {{"shelf inner", "shelf edge", degrees(3.4), millimetres(850.0), {100.0, 115.0}}};
    piece.draw.undercuts = {{millimetres(100.0),
                             millimetres(300.0),
                             "flange root to flange end",
                             millimetres(0.6),
                             millimetres(200.0),
                             {40.0, 15.0}}};
    piece.platen.machine = "window 2400 × 800";
    piece.platen.free_mm = {2350.0, 750.0};
    piece.platen.excess = millimetres(-12.5);
    piece.thinning.places = {ThinPlace{"flange",
                                       millimetres(2.31),
                                       millimetres(0.1),
                                       millimetres(2.0),
                                       millimetres(1083.0),
                                       {40.0, 15.0},
                                       0.58,
                                       millimetres(3.5)}};
    piece.lanes = {FluteLane{}};
    piece.lanes.front().name = "1";
    piece.lanes.front().mould_width = millimetres(27.5);
    piece.lanes.front().part_width = millimetres(24.0);
    piece.lanes.front().missing = {"the thickness of the plug's board"};
    piece.ladders = {LadderOf{
        {"length over all", DimensionKind::spacing, false, millimetres(1800.0), {}, {}},
        {{"part", millimetres(1800.0), millimetres(0.4), {}}, {"buck", millimetres(1818.13), millimetres(2.0), {}}},
        {}}};
    plan.pieces = {piece};
    return plan;
}

std::string all_text(const std::vector<SheetPart>& parts) {
    std::string text;
    for (const SheetPart& part : parts) {
        text += part.title + "\n";
        for (const Input& line : part.lines) {
            text += line.name + ": " + line.value + "\n";
        }
        for (const std::string& note : part.notes) {
            text += note + "\n";
        }
    }
    return text;
}

TEST(FormingSheet, TellsEveryNumberWithItsUnit) {
    Job job;
    job.skirt.pieces.emplace_back();
    const std::string text = all_text(forming_sheet(job, plan()));
    EXPECT_THAT(text, HasSubstr("tilt, up from straight outward: -2.5°"));
    EXPECT_THAT(text, HasSubstr("draft, shelf inner to shelf edge: 3.4° at 850.0 mm"));
    EXPECT_THAT(text, HasSubstr("Undercut at flange root to flange end, 0.6 mm deep"));
    EXPECT_THAT(text, HasSubstr("machine: not decided")) << "the job names none";
    EXPECT_THAT(text, HasSubstr("flange: 2.31 mm ± 0.20 mm, needs 2.00 mm"));
    // The sheet is 0.994 of the plug.
    EXPECT_THAT(text, HasSubstr("width on the plug: 27.7 mm"));
    EXPECT_THAT(text, HasSubstr("width seen on the part: 24.0 mm"));
    EXPECT_THAT(text, HasSubstr("sheet, along: 99.400 % ± 0.200 %, assumed"));
    EXPECT_THAT(text, HasSubstr("buck: 1818.13 mm ± 4.00 mm"));
}

TEST(FormingSheet, NeverPrintsAZeroForWhatIsNotKnown) {
    Job job;
    job.skirt.pieces.emplace_back();
    const std::string text = all_text(forming_sheet(job, plan()));
    EXPECT_THAT(text, HasSubstr("wood left below: not known"));
    EXPECT_THAT(text, HasSubstr("Not decided or measured yet: the thickness of the plug's board."));
}

}  // namespace
}  // namespace sillwright::core
