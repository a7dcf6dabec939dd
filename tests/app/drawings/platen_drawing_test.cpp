#include "app/drawings/platen_drawing.h"

#include "tests/app/drawings/formed_skirt.h"
#include "tests/app/drawings/readable.h"

namespace sillwright::app {
namespace {

const QSizeF k_below_section(830.0, 340.0);  ///< On the smallest screen.

TEST(PlatenDrawing, CanBeReadOnSmallAndLargeSheets) {
    PlatenDrawing drawing;
    for (const PlatenPicture& picture : {part_that_fits(), part_too_long()}) {
        drawing.set_picture(picture);
        for (const QSizeF& size : {k_below_section, QSizeF(drawing.minimumSizeHint()), QSizeF(1300.0, 620.0)}) {
            SCOPED_TRACE(picture.verdict + " on " + std::to_string(size.width()));
            expect_readable(drawing.compose(size));
        }
    }
}

TEST(PlatenDrawing, SaysByHowMuchThePartIsTooLongAndWhere) {
    PlatenDrawing drawing;
    drawing.set_picture(part_too_long());
    const Composition made = drawing.compose(k_below_section);
    const auto* verdict = writing_of(made, "178 mm too long");
    ASSERT_NE(verdict, nullptr);
    EXPECT_GE(verdict->look.pixels, looks::k_number);
    EXPECT_EQ(shapes_of(made, core::State::falls_short), 1);
    EXPECT_EQ(times_written(made, "89.3 past the left clamp"), 1);
    EXPECT_EQ(times_written(made, "89.3 past the right clamp"), 1);
    EXPECT_EQ(times_written(made, "set back 90"), 2);
    EXPECT_EQ(times_written(made, "split at 4 · 700 mm"), 1);
    EXPECT_EQ(times_written(made, "turned 12.0°"), 1);
    EXPECT_EQ(times_written(made, "opening 1800"), 2) << "in the heading, and as a dimension";
    // 1940 cos 12° + 150 sin 12° = 1928.8; 1940 sin 12° + 150 cos 12° = 550.1.
    EXPECT_EQ(times_written(made, "needs 1928.8"), 1);
    EXPECT_EQ(times_written(made, "550.1"), 1);
}

TEST(PlatenDrawing, IsOfOneTrueScale) {
    PlatenDrawing drawing;
    drawing.set_picture(part_that_fits());
    const double pixels = drawing.pixels_for_mm(k_below_section);
    const Composition made = drawing.compose(k_below_section);
    int windows = 0;
    int parts = 0;
    for (const Composition::Stroke& stroke : made.strokes()) {
        const QRectF box = stroke.points.boundingRect();
        windows += std::abs(box.width() - 2200.0 * pixels) < 1e-6 && std::abs(box.height() - 700.0 * pixels) < 1e-6;
        parts += std::abs(box.width() - 1900.0 * pixels) < 1e-6 && std::abs(box.height() - 110.0 * pixels) < 1e-6;
    }
    EXPECT_EQ(windows, 1);
    EXPECT_EQ(parts, 1);
    EXPECT_GT(2200.0 * pixels, 0.6 * k_below_section.width()) << "the sheet is used";
}

TEST(PlatenDrawing, DrawsWhatIsSeen) {
    PlatenDrawing drawing;
    drawing.set_picture(part_too_long());
    expect_drawn_as_seen(drawing, {830, 340});
}

TEST(PlatenDrawing, SaysWhatMustBeDecidedFirst) {
    PlatenDrawing drawing;
    PlatenPicture none;
    none.words = "To lay the part on the machine, decide first:\n– the machine";
    drawing.set_picture(none);
    const Composition made = drawing.compose(k_below_section);
    expect_readable(made);
    EXPECT_EQ(times_written(made, "the machine"), 1);
    EXPECT_TRUE(made.strokes().empty());
    EXPECT_EQ(drawing.pixels_for_mm(k_below_section), 0.0);
}

}  // namespace
}  // namespace sillwright::app
