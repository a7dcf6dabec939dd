#include "core/buck/sheet_drawing.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>
#include <sstream>
#include <string>

#include "tests/core/buck/hand_buck.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::DrawnChain;
using geometry::DrawnText;
using testing::Contains;
using testing::HasSubstr;

/// A square of 100 with a slot-like notch, a hole, a cut-out, words, an arrow and a tab: what a part may have.
CutPart square_part() {
    CutPart part;
    part.label = "R7";
    part.board = "mdf 12";
    part.thickness_mm = 11.93;
    part.finished =
        geometry::make_profile({{{0, 0}, {}}, {{100, 0}, {}}, {{100, 100}, {}}, {{0, 100}, {}}}, true).value();
    part.outline = part.finished;
    part.inside.push_back(
        geometry::make_profile({{{60, 60}, {}}, {{90, 60}, {}}, {{90, 90}, {}}, {{60, 90}, {}}}, true).value());
    part.holes.push_back({{20, 20}, 6.0, "datum rod 1"});
    part.words.push_back({"S1", {40, 5}, 6.0});
    part.words.push_back({"R7", {10, 40}, 8.0});
    part.lines.push_back({{10, 70}, {40, 70}, true});
    part.tabs.push_back({{50, 0}, geometry::Angle{}});
    part.face_up = "front face";
    return part;
}

/// On the sheet's middle, turned by a quarter: (x, y) of the part is (500 - y, 300 + x) of the sheet.
Nesting quarter_turned() {
    Nesting nesting;
    nesting.sheets.push_back({"mdf 12", 1, {{0, geometry::degrees(90), {500, 300}}}, {}, 1e4, {1900, 1220}});
    nesting.gap_mm = 8.0;
    return nesting;
}

std::vector<geometry::DrawnShape> on_layer(const SheetDrawing& sheet, const std::string& layer) {
    std::vector<geometry::DrawnShape> found;
    for (const auto& entity : sheet.drawing.entities) {
        if (entity.layer == layer) {
            found.push_back(entity.shape);
        }
    }
    return found;
}

std::vector<std::string> notes_of(const SheetDrawing& sheet) {
    std::vector<std::string> found;
    for (const auto& shape : on_layer(sheet, "NOTE")) {
        found.push_back(std::get<DrawnText>(shape).words);
    }
    return found;
}

SheetDrawing one_sheet(const Job& job, const CutPart& part = square_part()) {
    auto sheets = sheet_drawings(job, {part}, quarter_turned());
    EXPECT_TRUE(sheets) << sheets.error().message;
    EXPECT_EQ(sheets.value().size(), 1U);
    return std::move(sheets).value().front();
}

TEST(SheetDrawing, APartLiesWhereItWasPlaced) {
    const SheetDrawing sheet = one_sheet(hand_buck_job());
    EXPECT_EQ(sheet.stem, "sheet_1_mdf_12");
    const auto outlines = on_layer(sheet, "CUT_OUTSIDE");
    ASSERT_EQ(outlines.size(), 1U);
    const auto& outline = std::get<DrawnChain>(outlines[0]);
    EXPECT_TRUE(outline.closed);
    ASSERT_EQ(outline.vertices.size(), 4U);
    const std::vector<Vector2d> corners{{500, 300}, {500, 400}, {400, 400}, {400, 300}};
    for (std::size_t i = 0; i < 4; ++i) {
        EXPECT_LT((outline.vertices[i].p_mm - corners[i]).norm(), 1e-9);
    }
    const auto holes = on_layer(sheet, "DRILL");
    ASSERT_EQ(holes.size(), 1U);
    EXPECT_LT((std::get<geometry::DrawnCircle>(holes[0]).centre_mm - Vector2d(480, 320)).norm(), 1e-9);
    EXPECT_EQ(std::get<geometry::DrawnCircle>(holes[0]).radius, geometry::millimetres(3));
    EXPECT_EQ(on_layer(sheet, "CUT_INSIDE").size(), 1U);
}

TEST(SheetDrawing, WordsAreStrokesAndTheLabelIsTextToo) {
    const SheetDrawing sheet = one_sheet(hand_buck_job());
    Eigen::AlignedBox2d box;
    std::size_t chains = 0;
    for (const auto& shape : on_layer(sheet, "ENGRAVE")) {
        EXPECT_FALSE(std::holds_alternative<DrawnText>(shape));
        if (const auto* chain = std::get_if<DrawnChain>(&shape)) {
            ++chains;
            for (const auto& vertex : chain->vertices) {
                box.extend(vertex.p_mm);
            }
        }
    }
    EXPECT_GT(chains, 4U);
    EXPECT_TRUE(Eigen::AlignedBox2d(Vector2d(400, 300), Vector2d(500, 400)).contains(box));
    bool found = false;
    for (const auto& shape : on_layer(sheet, "NOTE")) {
        const auto& text = std::get<DrawnText>(shape);
        if (text.words == "R7") {
            found = true;
            EXPECT_LT((text.at_mm - Vector2d(460, 310)).norm(), 1e-9);
            EXPECT_NEAR(geometry::in_deg(text.turned), 90.0, 1e-9);
            EXPECT_EQ(text.height, geometry::millimetres(8));
        }
    }
    EXPECT_TRUE(found);
}

TEST(SheetDrawing, NotesSayWhatTheOperatorMustKnow) {
    Job job = hand_buck_job();
    const auto notes = notes_of(one_sheet(job));
    EXPECT_THAT(notes, Contains(HasSubstr("Estate A | revision C | 2026-03-14 | RIGHT SIDE")));
    EXPECT_THAT(notes,
                Contains(HasSubstr("SHEET 1 OF 1 OF BOARD mdf 12, 2440 mm x 1220 mm, thickness as measured 11.9, "
                                   "12, 11.9 mm")));
    EXPECT_THAT(notes, Contains(HasSubstr("SCALE 1:1. UNIT: MILLIMETRES")));
    EXPECT_THAT(notes, Contains(HasSubstr("BIT flat 6, diameter 6 mm. CUT_OUTSIDE and CUT_INSIDE are finished edges")));
    EXPECT_THAT(notes, Contains(HasSubstr("ORDER: 1 ENGRAVE, 2 DRILL, 3 CUT_INSIDE, 4 CUT_OUTSIDE, leaving TAB")));
    EXPECT_THAT(notes, Contains(HasSubstr("KEEP the off-cut of 1900 mm x 1220 mm")));
    job.side = Side::left;
    job.buck.unit = DrawingUnit::inches;
    const auto left = notes_of(one_sheet(job));
    EXPECT_THAT(left, Contains(HasSubstr("LEFT SIDE")));
    EXPECT_THAT(left, Contains(HasSubstr("UNIT: INCHES")));
}

TEST(SheetDrawing, NotesStandBelowTheSheet) {
    for (const auto& shape : on_layer(one_sheet(hand_buck_job()), "NOTE")) {
        const auto& text = std::get<DrawnText>(shape);
        EXPECT_TRUE(text.words == "R7" || text.at_mm.y() + geometry::in_mm(text.height) < 0.0) << text.words;
    }
}

TEST(SheetDrawing, TheEdgeAndTheDefectsAreDrawn) {
    const auto edges = on_layer(one_sheet(hand_buck_job()), "SHEET_EDGE");
    ASSERT_EQ(edges.size(), 2U);
    EXPECT_EQ(std::get<DrawnChain>(edges[0]).vertices[2].p_mm, Vector2d(2440, 1220));
    EXPECT_EQ(std::get<DrawnChain>(edges[1]).vertices[0].p_mm, Vector2d(2000, 800));
    EXPECT_EQ(std::get<DrawnChain>(edges[1]).vertices[2].p_mm, Vector2d(2100, 850));
}

// By hand: a tab 6 wide at (50, 0) of the part, across the edge by half of the bit's 6 to each side.
TEST(SheetDrawing, TabsLieAcrossTheLineThatIsDrawn) {
    Job job = hand_buck_job();
    const auto box_of_tab = [&] { return geometry::bounds_mm({{}, {{"TAB", on_layer(one_sheet(job), "TAB").at(0)}}}); };
    EXPECT_LT((box_of_tab().min() - Vector2d(497, 347)).norm(), 1e-9);
    EXPECT_LT((box_of_tab().max() - Vector2d(503, 353)).norm(), 1e-9);
    job.buck.line = CutLine::tool_path;  // the bit's middle is 3 further out
    EXPECT_LT((box_of_tab().min() - Vector2d(500, 347)).norm(), 1e-9);
    EXPECT_LT((box_of_tab().max() - Vector2d(506, 353)).norm(), 1e-9);
}

// By hand: outside, the path round a square of 100 with a bit of 6 is a square of 106 with corners of 3; inside a
// square of 30 it is one of 24.
TEST(SheetDrawing, ToolPathsRunAtTheBitsRadius) {
    Job job = hand_buck_job();
    job.buck.line = CutLine::tool_path;
    const SheetDrawing sheet = one_sheet(job);
    EXPECT_TRUE(on_layer(sheet, "CUT_OUTSIDE").empty());
    const auto outside = on_layer(sheet, "PATH_OUTSIDE");
    const auto inside = on_layer(sheet, "PATH_INSIDE");
    ASSERT_EQ(outside.size(), 1U);
    ASSERT_EQ(inside.size(), 1U);
    const auto outer = geometry::bounds_mm({{}, {{"", outside[0]}}});
    EXPECT_LT((outer.min() - Vector2d(397, 297)).norm(), 1e-6);
    EXPECT_LT((outer.max() - Vector2d(503, 403)).norm(), 1e-6);
    EXPECT_EQ(std::get<DrawnChain>(outside[0]).vertices.size(), 8U);
    const auto inner = geometry::bounds_mm({{}, {{"", inside[0]}}});
    EXPECT_LT((inner.min() - Vector2d(413, 363)).norm(), 1e-6);
    EXPECT_LT((inner.max() - Vector2d(437, 387)).norm(), 1e-6);
    EXPECT_THAT(notes_of(sheet), Contains(HasSubstr("PATH_OUTSIDE and PATH_INSIDE are the way of the bit's middle")));
}

TEST(SheetDrawing, WithoutABitThereIsNoPathAndItSaysSo) {
    Job job = hand_buck_job();
    job.buck.line = CutLine::tool_path;
    job.buck.bit.clear();
    const SheetDrawing sheet = one_sheet(job);
    EXPECT_EQ(on_layer(sheet, "CUT_OUTSIDE").size(), 1U);
    EXPECT_THAT(sheet.notes, Contains(HasSubstr("no tool path")));
    EXPECT_THAT(notes_of(sheet), Contains(HasSubstr("BIT NOT KNOWN")));
}

TEST(SheetDrawing, ACutOutThatIsNarrowerThanTheBitIsRefused) {
    Job job = hand_buck_job();
    job.buck.line = CutLine::tool_path;
    CutPart part = square_part();
    part.inside = {
        geometry::make_profile({{{60, 60}, {}}, {{65, 60}, {}}, {{65, 90}, {}}, {{60, 90}, {}}}, true).value()};
    const auto sheets = sheet_drawings(job, {part}, quarter_turned());
    ASSERT_FALSE(sheets);
    EXPECT_EQ(sheets.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_THAT(sheets.error().message, HasSubstr("Part R7: a bit of 6 mm has no room"));
}

TEST(SheetDrawing, APartWithoutALabelIsNamedAndToldApart) {
    CutPart part = square_part();
    part.words.pop_back();
    const SheetDrawing sheet = one_sheet(hand_buck_job(), part);
    EXPECT_THAT(sheet.notes, Contains(HasSubstr("Part R7 has no room for its engraved label")));
    EXPECT_THAT(notes_of(sheet), Contains("R7"));
}

TEST(SheetDrawing, ASheetOfNoBoardIsRefused) {
    Nesting nesting = quarter_turned();
    nesting.sheets[0].board = "ply 9";
    const auto sheets = sheet_drawings(hand_buck_job(), {square_part()}, nesting);
    ASSERT_FALSE(sheets);
    EXPECT_THAT(sheets.error().message, HasSubstr("\"ply 9\""));
}

TEST(SheetDrawing, TheJobsChoicesOfFileAreTaken) {
    Buck buck;
    EXPECT_EQ(dxf_options(buck).release, geometry::DxfRelease::r2000);
    EXPECT_EQ(dxf_options(buck).unit, geometry::DxfUnit::millimetres);
    buck.release = core::DxfRelease::older;
    buck.unit = DrawingUnit::inches;
    EXPECT_EQ(dxf_options(buck).release, geometry::DxfRelease::r12);
    EXPECT_EQ(dxf_options(buck).unit, geometry::DxfUnit::inches);
}

// Areas by hand: 100 x 100, less the cut-out of 30 x 30.
TEST(CutList, HasALineForEachPart) {
    const Job job = hand_buck_job();
    BuckPlan plan;
    PieceBuck piece;
    Rib rib;
    rib.label = "R7";
    rib.bevels.push_back(
        {"bead, upper to knee", geometry::degrees(2.0), geometry::degrees(3.5), geometry::millimetres(0.6)});
    piece.ribs.push_back(rib);
    plan.pieces.push_back(piece);
    CutPart left_out = square_part();
    left_out.label = "R8";
    const std::string table = cut_list_csv(job, plan, {square_part(), left_out}, quarter_turned());
    std::istringstream in(table);
    std::string line;
    std::getline(in, line);
    EXPECT_EQ(line,
              "label,kind,piece,board,sheet,thickness_mm,width_mm,height_mm,area_mm2,cut_area_mm2,bevels,holes,"
              "face_up\r");
    std::getline(in, line);
    EXPECT_EQ(line,
              "R7,rib,skirt,mdf 12,1,11.93,100,100,10000,9100,\"bead, upper to knee: 2.0 to 3.5 deg, 0.60 mm at "
              "most\",datum rod 1: 6 mm,front face\r");
    std::getline(in, line);
    EXPECT_EQ(line, "R8,rib,skirt,mdf 12,,11.93,100,100,10000,9100,,datum rod 1: 6 mm,front face\r");
    EXPECT_FALSE(std::getline(in, line));
}

}  // namespace
}  // namespace sillwright::core
