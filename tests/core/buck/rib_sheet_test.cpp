#include "core/buck/rib_sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>

#include "core/job_file.h"

namespace sillwright::core {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

std::vector<std::string> words_on(const geometry::Drawing& drawing, const std::string& layer) {
    std::vector<std::string> words;
    for (const geometry::DrawnEntity& entity : drawing.entities) {
        const auto* text = std::get_if<geometry::DrawnText>(&entity.shape);
        if (text != nullptr && entity.layer == layer) {
            words.push_back(text->words);
        }
    }
    return words;
}

/// A rectangle as wide and high as said, from (10, 20).
StationOutline plate(const std::string& piece, const std::string& station, double width, double height) {
    std::vector<geometry::ProfileNode> nodes;
    for (const Eigen::Vector2d& p : {Eigen::Vector2d(0, 0), {width, 0}, {width, height}, {0, height}}) {
        nodes.push_back({Eigen::Vector2d(p + Eigen::Vector2d(10, 20)), {}});
    }
    return {piece, station, {}, geometry::make_profile(nodes, true).value()};
}

Job job() {
    Job made;
    made.vehicle = "Estate A, invented";
    made.revision = "C";
    made.skirt.pieces.resize(1);
    return made;
}

TEST(RibSheet, CarriesTheWarningToTheLetter) {
    const auto sheets = rib_sheets(job(), {plate("skirt", "1", 120, 100)}).value();
    ASSERT_EQ(sheets.size(), 1U);
    EXPECT_EQ(sheets[0].stem, "station_1");
    EXPECT_TRUE(sheets[0].notes.empty());
    const std::string warning = "PART SIZE - NO SHRINKAGE, NO SKIN - DO NOT CUT A BUCK FROM THIS";
    EXPECT_THAT(words_on(sheets[0].drawing, "NOTE"), Contains(warning));
    const auto all = all_ribs_sheet(job(), {plate("skirt", "1", 120, 100)}).value();
    EXPECT_THAT(words_on(all.drawing, "NOTE"), Contains(warning));
}

TEST(RibSheet, SaysOfAFlangeBentAfterFormingThatTheMouldCarriesItFlat) {
    Job made = job();
    made.skirt.pieces.resize(2);
    made.skirt.pieces[0].name = "front";
    made.skirt.pieces[1].name = "rear";
    made.skirt.pieces[1].flange.making = FlangeMaking::bent_after;
    const std::string note = "Piece rear: the flange is drawn as bent after forming; the mould carries it flat.";
    const std::vector<StationOutline> outlines{plate("front", "1", 120, 100), plate("rear", "2", 120, 100)};
    const auto sheets = rib_sheets(made, outlines).value();
    ASSERT_EQ(sheets.size(), 2U);
    EXPECT_THAT(words_on(sheets[0].drawing, "NOTE"), Not(Contains(HasSubstr("mould carries it flat"))));
    EXPECT_THAT(words_on(sheets[1].drawing, "NOTE"), Contains(note));
    EXPECT_THAT(words_on(all_ribs_sheet(made, outlines).value().drawing, "NOTE"), Contains(note));
}

TEST(RibSheet, MovesALabelThatHasNoRoomBesideTheRibAndSaysSo) {
    const auto sheets = rib_sheets(job(), {plate("skirt", "7", 20, 15)}).value();
    EXPECT_TRUE(words_on(sheets[0].drawing, "ENGRAVE").empty());
    EXPECT_THAT(words_on(sheets[0].drawing, "NOTE"), Contains("STATION 7"));
    ASSERT_EQ(sheets[0].notes.size(), 1U);
    EXPECT_THAT(sheets[0].notes[0], HasSubstr("Station 7: the rib has no room for its label"));
}

TEST(RibSheet, SaysWhereTheLinesAreInTheLabelIfThereIsNoRoomBelow) {
    // A table on a leg of 10 mm: a quarter up, at 30 mm, lies in the leg.
    std::vector<geometry::ProfileNode> nodes;
    for (const Eigen::Vector2d& p :
         {Eigen::Vector2d(45, 0), {55, 0}, {55, 40}, {120, 40}, {120, 120}, {0, 120}, {0, 40}, {45, 40}}) {
        nodes.push_back({p, {}});
    }
    const StationOutline table{"skirt", "1", {}, geometry::make_profile(nodes, true).value()};
    const auto sheets = rib_sheets(job(), {table}).value();
    EXPECT_THAT(words_on(sheets[0].drawing, "ENGRAVE"), Contains("BASELINE UP 30 mm"));
    EXPECT_THAT(words_on(sheets[0].drawing, "ENGRAVE"), Contains("CENTRE LINE OUT 50 mm"));
    for (const geometry::DrawnEntity& entity : sheets[0].drawing.entities) {
        const auto* text = std::get_if<geometry::DrawnText>(&entity.shape);
        if (text != nullptr && entity.layer == "ENGRAVE") {
            EXPECT_GT(text->at_mm.y(), 40.0) << text->words;
        }
    }
}

TEST(RibSheet, NamesAreSafeAndUnique) {
    const auto sheets = rib_sheets(job(), {plate("front", "a/b", 120, 100), plate("front", "a.b", 120, 100),
                                           plate("rear", "a/b", 120, 100)})
                            .value();
    ASSERT_EQ(sheets.size(), 3U);
    EXPECT_EQ(sheets[0].stem, "station_a_b_front");
    EXPECT_EQ(sheets[1].stem, "station_a_b_front_2");
    EXPECT_EQ(sheets[2].stem, "station_a_b_rear");
}

TEST(RibSheet, StandSideBySideWithTheGap) {
    const auto all = all_ribs_sheet(job(), {plate("skirt", "1", 120, 100), plate("skirt", "2", 110, 90)}).value();
    std::vector<Eigen::AlignedBox2d> boxes;
    for (const geometry::DrawnEntity& entity : all.drawing.entities) {
        if (entity.layer == "CUT_OUTSIDE") {
            boxes.push_back(geometry::bounds_mm({all.drawing.layers, {entity}}));
        }
    }
    ASSERT_EQ(boxes.size(), 2U);
    EXPECT_DOUBLE_EQ(boxes[0].min().x(), 0.0);
    EXPECT_DOUBLE_EQ(boxes[1].min().x(), 150.0);
    EXPECT_DOUBLE_EQ(boxes[1].max().x(), 260.0);
    EXPECT_DOUBLE_EQ(boxes[1].min().y(), 20.0);
}

}  // namespace
}  // namespace sillwright::core
