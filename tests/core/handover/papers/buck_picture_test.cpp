#include "core/handover/papers/buck_picture.h"

#include <gtest/gtest.h>

#include <set>

#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using geometry::Drawing;

std::multiset<std::string> words_in(const Drawing& drawing) {
    std::multiset<std::string> all;
    for (const geometry::DrawnEntity& entity : drawing.entities) {
        if (const auto* text = std::get_if<geometry::DrawnText>(&entity.shape)) {
            all.insert(text->words);
        }
    }
    return all;
}

TEST(BuckPicture, ShowsEveryRibFromBothSides) {
    const Drawing drawing = assembly_picture(paper_world::hand_buck());
    const auto all = words_in(drawing);
    for (const char* label : {"R1", "R2", "R3"}) {
        EXPECT_EQ(all.count(label), 2U) << label;
    }
    EXPECT_EQ(all.count("S1"), 1U);
    EXPECT_EQ(all.count("FRONT"), 1U);
    // Front of R1 at 0, rear of R3 at its place; spine from -10 to 830.
    const auto box = geometry::bounds_mm(drawing);
    EXPECT_LT(box.min().x(), -10.0);
    EXPECT_GT(box.max().x(), 830.0);
    EXPECT_GT(box.sizes().y(), 112.0 + 92.0);
}

TEST(BuckPicture, StandsRibsWhereTheyStand) {
    const Drawing drawing = assembly_picture(paper_world::hand_buck());
    std::size_t found = 0;
    for (const geometry::DrawnEntity& entity : drawing.entities) {
        const auto* chain = std::get_if<geometry::DrawnChain>(&entity.shape);
        // R3's rear face lies on its place: it reaches forward from 804.8.
        if (chain != nullptr && std::abs(chain->vertices[1].p_mm.x() - 804.8) < 1e-9) {
            EXPECT_NEAR(chain->vertices[0].p_mm.x(), 804.8 - 11.93, 1e-9);
            ++found;
        }
    }
    EXPECT_EQ(found, 2U);
}

TEST(BuckPicture, LaysPartsAsTheyAreNested) {
    CutPart part;
    part.label = "R1";
    part.outline = paper_world::box_profile(-60.0, 50.0, 90.0);
    NestedSheet sheet;
    sheet.parts = {{0, geometry::degrees(90.0), {200.0, 100.0}}};
    sheet.used_mm = {210.0, 160.0};
    Board board;
    board.length = Entry{geometry::millimetres(2440.0), ""};
    board.width = Entry{geometry::millimetres(1220.0), ""};
    const auto drawing = sheet_picture({part}, sheet, &board);
    ASSERT_TRUE(drawing);
    EXPECT_EQ(words_in(drawing.value()), std::multiset<std::string>{"R1"});
    Eigen::AlignedBox2d box;
    for (const geometry::DrawnEntity& entity : drawing.value().entities) {
        if (entity.layer == "CUT_OUTSIDE") {
            box.extend(geometry::bounds_mm({{{"CUT_OUTSIDE", 7}}, {entity}}));
        }
    }
    // A quarter turn takes (x, y) to (-y, x): x from 200 - 90 to 200, y from 100 - 60 to 100 + 50.
    EXPECT_TRUE(box.min().isApprox(Eigen::Vector2d(110.0, 40.0), 1e-9));
    EXPECT_TRUE(box.max().isApprox(Eigen::Vector2d(200.0, 150.0), 1e-9));
    EXPECT_NEAR(geometry::bounds_mm(drawing.value()).max().x(), 2440.0, 1e-9);
}

TEST(BuckPicture, RefusesAPartWithoutAnOutline) {
    CutPart part;
    part.label = "R7";
    NestedSheet sheet;
    sheet.parts = {{0, {}, {0.0, 0.0}}};
    const auto drawing = sheet_picture({part}, sheet, nullptr);
    ASSERT_FALSE(drawing);
    EXPECT_TRUE(drawing.error().message.starts_with("R7: "));
    EXPECT_TRUE(assembly_picture(PieceBuck{}).entities.empty());
    EXPECT_TRUE(box_of({}).isEmpty());
}

}  // namespace
}  // namespace sillwright::core
