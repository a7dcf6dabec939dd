#include "app/drawings/section_drawing.h"

#include <gtest/gtest.h>

#include <QImage>
#include <QPixmap>

#include "app/looks.h"
#include "tests/app/invented_job.h"

namespace sillwright::app {
namespace {

SectionPicture square(double side_mm) {
    SectionPicture picture;
    picture.lines = {{SectionRole::body, {{0, 0}, {side_mm, 0}, {side_mm, side_mm}, {0, side_mm}}, true, ""}};
    return picture;
}

TEST(SectionDrawing, HasOneScaleAndUpIsUp) {
    const SectionScale scale = fit(square(100), QRectF(0, 0, 400, 200));
    EXPECT_DOUBLE_EQ(scale.pixels_per_mm, 2.0);  // the height decides: 200 px for 100 mm
    EXPECT_EQ(scale.on_sheet({0, 0}), QPointF(100, 200));
    EXPECT_EQ(scale.on_sheet({100, 100}), QPointF(300, 0));
}

TEST(SectionDrawing, FitsADoorByItsLowerEdge) {
    SectionPicture picture = square(100);
    picture.lines.push_back({SectionRole::door, {{40, 110}, {60, 110}, {60, 900}, {40, 900}}, true, ""});
    // Up from 0 to 100, and 30 mm of the door above.
    EXPECT_DOUBLE_EQ(fit(picture, QRectF(0, 0, 400, 260)).pixels_per_mm, 2.0);
    picture.lines.erase(picture.lines.begin());
    EXPECT_DOUBLE_EQ(fit(picture, QRectF(0, 0, 400, 790)).pixels_per_mm, 1.0) << "alone it is shown as a whole";
}

TEST(SectionDrawing, FitsWhatHasNoExtent) {
    // Nothing drawn yet: room for a sill from -80 to 220 mm out, -60 to 200 mm up.
    EXPECT_DOUBLE_EQ(fit({}, QRectF(0, 0, 600, 520)).pixels_per_mm, 2.0);
    EXPECT_EQ(fit({}, QRectF(0, 0, 600, 520)).on_sheet({-80.0, -60.0}), QPointF(0.0, 520.0));
    EXPECT_DOUBLE_EQ(fit(square(0), QRectF(0, 0, 40, 20)).pixels_per_mm, 1.0);
    SectionPicture level;
    level.lines = {{SectionRole::body, {{0, 5}, {10, 5}}, false, ""}};
    EXPECT_DOUBLE_EQ(fit(level, QRectF(0, 0, 40, 20)).pixels_per_mm, 4.0);
}

/// Pixels of exactly that colour.
int count(const QImage& image, const QColor& colour) {
    int sum = 0;
    for (int y = 0; y < image.height(); ++y) {
        for (int x = 0; x < image.width(); ++x) {
            sum += image.pixelColor(x, y) == colour ? 1 : 0;
        }
    }
    return sum;
}

TEST(SectionDrawing, DrawsEveryBodyInItsColour) {
    SectionDrawing drawing;
    drawing.resize(900, 600);
    const CheckedJob job = invented_job();
    drawing.show_section(job.section_at(geometry::millimetres(350)).value());
    const QImage image = drawing.grab().toImage();
    EXPECT_EQ(image.pixelColor(image.width() / 3, image.height() / 2), looks::colours(looks::Tone::light).paper);
    for (const QColor& colour : {looks::colours(looks::Tone::light).graphite, looks::colours(looks::Tone::light).door, looks::colours(looks::Tone::light).skirt}) {
        EXPECT_GT(count(image, colour), 100) << colour.name().toStdString();
    }
}

TEST(SectionDrawing, ABodyThatIsNotThereIsNotDrawn) {
    SectionDrawing drawing;
    drawing.resize(900, 600);
    drawing.show_section(square(100));
    EXPECT_EQ(count(drawing.grab().toImage(), looks::colours(looks::Tone::light).skirt), 0);
    EXPECT_EQ(count(drawing.grab().toImage(), looks::colours(looks::Tone::light).door), 0);
}

TEST(SectionDrawing, ASentenceTakesTheSectionsPlace) {
    SectionDrawing drawing;
    drawing.resize(900, 600);
    drawing.show_section(square(100));
    drawing.show_sentence("No station is marked.");
    EXPECT_EQ(drawing.sentence(), "No station is marked.");
    EXPECT_TRUE(drawing.picture().lines.empty());
    EXPECT_EQ(drawing.accessibleDescription(), "No station is marked.");
    EXPECT_GT(count(drawing.grab().toImage(), looks::colours(looks::Tone::light).graphite), 20);
}

TEST(SectionDrawing, SmallestSizeDoesNotFail) {
    SectionDrawing drawing;
    drawing.resize(1, 1);
    drawing.show_section(square(100));
    EXPECT_FALSE(drawing.grab().isNull());
}

}  // namespace
}  // namespace sillwright::app
