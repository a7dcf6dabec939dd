#include "app/drawings/flute_drawing.h"

#include "tests/app/drawings/formed_skirt.h"
#include "tests/app/drawings/readable.h"

namespace sillwright::app {
namespace {

const QSizeF k_below_section(830.0, 350.0);  ///< On the smallest screen.

TEST(FluteDrawing, CanBeReadOnSmallAndLargeSheets) {
    FluteDrawing drawing;
    drawing.set_picture(three_flutes());
    for (const QSizeF& size : {k_below_section, QSizeF(drawing.minimumSizeHint()), QSizeF(1300.0, 640.0)}) {
        SCOPED_TRACE(std::to_string(size.width()));
        expect_readable(drawing.compose(size));
    }
    EXPECT_LE(drawing.minimumSizeHint().width(), 800) << "beside the findings of the smallest screen";
}

TEST(FluteDrawing, ListsWhatCutsEachFluteAndWhatComesOfIt) {
    FluteDrawing drawing;
    drawing.set_picture(three_flutes());
    const Composition made = drawing.compose(k_below_section);
    EXPECT_EQ(times_written(made, "round-nose 24"), 2);
    EXPECT_EQ(times_written(made, "none fits"), 1);
    EXPECT_EQ(times_written(made, "20.8"), 1) << "on the mould";
    EXPECT_EQ(times_written(made, "17.7"), 1) << "seen on the part: 20.8 less 3.1";
    EXPECT_EQ(times_written(made, "not decided: the thickness of the plug's board"), 1);
    EXPECT_EQ(times_written(made, "across drawn × 2"), 1);
    for (const core::State state : {core::State::holds, core::State::close}) {
        EXPECT_EQ(shapes_of(made, state), 1);
    }
}

TEST(FluteDrawing, ShowsTheBasePlateAtTrueScaleWhereItFouls) {
    FluteDrawing drawing;
    drawing.set_picture(three_flutes());
    const Composition made = drawing.compose(k_below_section);
    const auto* verdict = writing_of(made, "base plate 5.8 mm short of room at flute 3");
    ASSERT_NE(verdict, nullptr);
    EXPECT_GE(verdict->look.pixels, looks::k_number);
    EXPECT_EQ(times_written(made, "71.2"), 1);
    EXPECT_EQ(times_written(made, "inner upstand"), 1);
    EXPECT_EQ(times_written(made, "plate radius 75"), 1);
    std::vector<double> round;
    for (const Composition::Stroke& stroke : made.strokes()) {
        const QRectF box = stroke.points.boundingRect();
        if (stroke.closed && stroke.points.size() > 8 && std::abs(box.width() - box.height()) < 0.5) {
            round.push_back(box.width());
        }
    }
    ASSERT_EQ(round.size(), 2U) << "the plate, and the room that it asks for";
    EXPECT_NEAR(round[1] / round[0], 77.0 / 75.0, 1e-3);
}

// The groove's width on the sheet is its width on the mould at the scale across that is written.
TEST(FluteDrawing, DrawsFlutesInTheirTrueWidth) {
    FluteDrawing drawing;
    FlutePicture picture = three_flutes();
    picture.plate.reset();
    drawing.set_picture(picture);
    const Composition made = drawing.compose(k_below_section);
    const double pixels = (k_below_section.width() - 24.0) / 1900.0;
    std::vector<double> heights;
    for (const Composition::Stroke& stroke : made.strokes()) {
        if (stroke.closed && std::abs(stroke.points.boundingRect().width() - 1770.0 * pixels) < 1e-6) {
            heights.push_back(stroke.points.boundingRect().height());
        }
    }
    ASSERT_EQ(heights.size(), 3U);
    for (std::size_t i = 0; i < heights.size(); ++i) {
        EXPECT_NEAR(heights[i], picture.rows[i].width_mm * 2.0 * pixels, 1e-6);
    }
}

TEST(FluteDrawing, DrawsWhatIsSeen) {
    FluteDrawing drawing;
    drawing.set_picture(three_flutes());
    expect_drawn_as_seen(drawing, k_below_section.toSize());
}

}  // namespace
}  // namespace sillwright::app
