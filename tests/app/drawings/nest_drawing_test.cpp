#include "app/drawings/nest_drawing.h"

#include "tests/app/drawings/made_buck.h"
#include "tests/app/drawings/readable.h"

namespace sillwright::app {
namespace {

const QSizeF k_page(930.0, 520.0);  ///< On the smallest screen.

TEST(NestDrawing, CanBeReadOnSmallAndLargeSheets) {
    NestDrawing drawing;
    drawing.set_picture(made_nest());
    for (const QSizeF& size : {k_page, QSizeF(drawing.minimumSizeHint()), QSizeF(1500.0, 800.0)}) {
        SCOPED_TRACE(size.width());
        expect_readable(drawing.compose(size));
    }
}

TEST(NestDrawing, LabelsPartsDefectsAndWhatIsLeft) {
    NestDrawing drawing;
    drawing.set_picture(made_nest());
    const Composition made = drawing.compose(k_page);
    for (int i = 1; i <= 14; ++i) {
        EXPECT_TRUE(std::any_of(made.writings().begin(), made.writings().end(), [&](const auto& one) {
            return one.text == QStringLiteral("R%1").arg(i);
        })) << i;
    }
    EXPECT_EQ(times_written(made, "corner"), 1);
    EXPECT_EQ(times_written(made, "off-cut to keep, 2440 × 720"), 1);
    EXPECT_EQ(times_written(made, "2 sheets · none fewer by area"), 1);
    EXPECT_EQ(shapes_of(made, core::State::holds), 1);
    const auto hatched = std::count_if(made.strokes().begin(), made.strokes().end(),
                                       [](const auto& one) { return one.brush.style() == Qt::BDiagPattern; });
    EXPECT_EQ(hatched, 1) << "the defect";
}

TEST(NestDrawing, ALabelStandsInsideItsPartWhereThereIsRoom) {
    NestDrawing drawing;
    drawing.set_picture(made_nest());
    const double pixels = drawing.pixels_for_mm(k_page);
    const Composition made = drawing.compose(k_page);
    std::vector<QRectF> parts;
    for (const Composition::Stroke& stroke : made.strokes()) {
        const QRectF box = stroke.points.boundingRect();
        if (std::abs(box.width() - 120.0 * pixels) < 1e-6 && std::abs(box.height() - 150.0 * pixels) < 1e-6) {
            parts.push_back(box);
        }
    }
    ASSERT_EQ(parts.size(), 14U);
    int inside = 0;
    for (std::size_t i = 1; i < parts.size(); ++i) {  // of the first one a cut-out takes the room
        const auto* label = writing_of(made, QStringLiteral("R%1").arg(i + 1));
        ASSERT_NE(label, nullptr);
        inside += parts[i].contains(label->box) ? 1 : 0;
    }
    EXPECT_EQ(inside, 13);
}

TEST(NestDrawing, IsOfOneTrueScale) {
    NestDrawing drawing;
    drawing.set_picture(made_nest());
    const double pixels = drawing.pixels_for_mm(k_page);
    EXPECT_GT(2440.0 * pixels, 0.7 * k_page.width());
    const Composition made = drawing.compose(k_page);
    int boards = 0;
    int parts = 0;
    for (const Composition::Stroke& stroke : made.strokes()) {
        const QRectF box = stroke.points.boundingRect();
        boards += std::abs(box.width() - 2440.0 * pixels) < 1e-6 && std::abs(box.height() - 1220.0 * pixels) < 1e-6;
        parts += std::abs(box.width() - 120.0 * pixels) < 1e-6 && std::abs(box.height() - 150.0 * pixels) < 1e-6;
    }
    EXPECT_EQ(boards, 1);
    EXPECT_EQ(parts, 14);
}

TEST(NestDrawing, DrawsWhatIsSeen) {
    NestDrawing drawing;
    drawing.set_picture(made_nest());
    expect_drawn_as_seen(drawing, {930, 520});
}

TEST(NestDrawing, SaysWhyThereIsNoSheet) {
    NestDrawing drawing;
    NestPicture none;
    none.words = "Parts are being laid on sheets …";
    drawing.set_picture(none);
    expect_readable(drawing.compose(k_page));
    EXPECT_EQ(drawing.pixels_for_mm(k_page), 0.0);
}

}  // namespace
}  // namespace sillwright::app
