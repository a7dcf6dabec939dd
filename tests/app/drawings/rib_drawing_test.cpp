#include "app/drawings/rib_drawing.h"

#include "tests/app/drawings/made_buck.h"
#include "tests/app/drawings/readable.h"

namespace sillwright::app {
namespace {

const QSizeF k_page(930.0, 520.0);  ///< On the smallest screen.

TEST(RibDrawing, CanBeReadOnSmallAndLargeSheets) {
    RibDrawing drawing;
    drawing.set_picture(made_rib());
    for (const QSizeF& size : {k_page, QSizeF(drawing.minimumSizeHint()), QSizeF(1500.0, 800.0)}) {
        SCOPED_TRACE(size.width());
        const Composition made = drawing.compose(size);
        expect_readable(made);
        EXPECT_EQ(times_written(made, "R3"), 1);
        EXPECT_EQ(times_written(made, "rib 3 of 10"), 1);
    }
}

TEST(RibDrawing, SaysSlotsEdgesRodsAndLevel) {
    RibDrawing drawing;
    drawing.set_picture(made_rib());
    const Composition made = drawing.compose(k_page);
    for (const char* words : {"S1: 12.08 wide, 48 deep", "S2: 12.08 wide, 52 deep", "bevel 4.2°", "bevel 3.0 to 5.5°",
                              "gap 0.8 mm", "square", "rods 6", "level line, 40 above the base"}) {
        EXPECT_EQ(times_written(made, words), 1) << words;
    }
    EXPECT_EQ(times_written(made, "120"), 1) << "its width";
    EXPECT_EQ(times_written(made, "150"), 1) << "its height";
}

TEST(RibDrawing, IsOfOneTrueScaleWithSlotsCutIntoIt) {
    RibDrawing drawing;
    drawing.set_picture(made_rib());
    const double pixels = drawing.pixels_for_mm(k_page);
    EXPECT_GT(150.0 * pixels, 0.5 * k_page.height()) << "the sheet is used";
    const Composition made = drawing.compose(k_page);
    const Composition::Stroke* cut = nullptr;
    const Composition::Stroke* far = nullptr;
    for (const Composition::Stroke& stroke : made.strokes()) {
        const QRectF box = stroke.points.boundingRect();
        if (stroke.closed && std::abs(box.width() - 120.0 * pixels) < 1e-6) {
            cut = &stroke;
        }
        if (stroke.closed && std::abs(box.width() - 114.0 * pixels) < 1e-6) {
            far = &stroke;
        }
    }
    ASSERT_NE(cut, nullptr);
    ASSERT_NE(far, nullptr);
    EXPECT_EQ(far->pen.style(), Qt::CustomDashLine);
    EXPECT_EQ(cut->pen.style(), Qt::SolidLine);
    const QRectF box = cut->points.boundingRect();
    const auto holds = [&](double side_mm, double height_mm) {
        return cut->points.containsPoint(QPointF(box.left() + side_mm * pixels, box.bottom() - height_mm * pixels),
                                         Qt::OddEvenFill);
    };
    EXPECT_FALSE(holds(35.0, 20.0)) << "in the first slot";
    EXPECT_FALSE(holds(85.0, 51.0)) << "in the second";
    EXPECT_TRUE(holds(35.0, 49.0)) << "above the first";
    EXPECT_TRUE(holds(28.0, 20.0)) << "beside it: 35 - 6.05 is its edge";
    EXPECT_FALSE(holds(10.0, 130.0)) << "where the corner is cut off";
}

TEST(RibDrawing, DrawsWhatIsSeen) {
    RibDrawing drawing;
    drawing.set_picture(made_rib());
    expect_drawn_as_seen(drawing, {930, 520});
}

TEST(RibDrawing, SaysWhatMustBeDecidedFirst) {
    RibDrawing drawing;
    RibPicture none;
    none.words = "To make the buck, decide first:\n– the plug's skin";
    drawing.set_picture(none);
    const Composition made = drawing.compose(k_page);
    expect_readable(made);
    EXPECT_TRUE(made.strokes().empty());
    EXPECT_EQ(drawing.pixels_for_mm(k_page), 0.0);
    EXPECT_TRUE(drawing.accessibleDescription().contains("the plug's skin"));
}

}  // namespace
}  // namespace sillwright::app
