#include "app/drawings/bars_drawing.h"

#include <gtest/gtest.h>

namespace sillwright::app {
namespace {

TEST(BarsDrawing, PartsAreAsLongAsTheirShares) {
    BarsDrawing drawing;
    drawing.resize(800, 300);
    drawing.set_picture({"Heading", {{"front door", {{"axis", 0.64}, {"forming", 0.36}}}}, ""});
    const QRectF bar = drawing.bar_box(0);
    EXPECT_NEAR(drawing.part_box(0, 0).width(), 0.64 * bar.width(), 1e-9);
    EXPECT_NEAR(drawing.part_box(0, 1).width(), 0.36 * bar.width(), 1e-9);
    EXPECT_DOUBLE_EQ(drawing.part_box(0, 1).left(), drawing.part_box(0, 0).right());
    EXPECT_TRUE(drawing.accessibleDescription().contains("64 %")) << drawing.accessibleDescription().toStdString();
}

TEST(BarsDrawing, IsAsHighAsItsBarsNeed) {
    BarsDrawing drawing;
    drawing.set_picture({"Heading", {}, "Nothing yet."});
    const int empty = drawing.heightForWidth(600);
    drawing.set_picture({"Heading", {{"a", {{"axis", 1.0}}}, {"b", {{"axis", 1.0}}}}, ""});
    EXPECT_GT(drawing.heightForWidth(600), empty);
    EXPECT_GE(drawing.minimumHeight(), drawing.heightForWidth(drawing.width()));
    EXPECT_GT(drawing.heightForWidth(120), drawing.heightForWidth(600)) << "words take more lines";
}

}  // namespace
}  // namespace sillwright::app
