#include "app/drawings/clearance_plot.h"

#include <gtest/gtest.h>

#include <QImage>
#include <QSignalSpy>
#include <QTest>
#include <cmath>

namespace sillwright::app {
namespace {

using geometry::Angle;
using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using geometry::millimetres;

/// A door that comes nearest, 1.9 mm, at 6.2 degrees: invented.
ClearancePicture invented() {
    ClearancePicture picture;
    picture.door = "front door";
    picture.stop = degrees(68.0);
    picture.opening = degrees(20.0);
    ClearanceLine line{"front door, lower edge", {}};
    for (double angle = 0.0; angle <= 68.0; angle += 0.5) {
        line.points.push_back({degrees(angle), millimetres(1.9 + 0.03 * (angle - 6.2) * (angle - 6.2))});
    }
    picture.lines = {line};
    picture.marks = {{core::State::falls_short, degrees(6.2), millimetres(1.9), millimetres(4.0), "1.90 at 6.2°", {}}};
    return picture;
}

QImage drawn(const ClearancePlot& plot, const QSize& size) {
    QImage image(size, QImage::Format_RGB32);
    image.fill(Qt::magenta);  // whatever is left over is seen
    QPainter painter(&image);
    plot.draw(painter, size);
    return image;
}

TEST(ClearancePlot, ScaleRunsFromShutToTheStopAndBack) {
    const auto scale = clearance_scale(invented(), {330, 240});
    ASSERT_TRUE(scale);
    EXPECT_DOUBLE_EQ(scale->x_of(Angle{}), scale->field.left());
    EXPECT_DOUBLE_EQ(scale->x_of(degrees(68.0)), scale->field.right());
    EXPECT_DOUBLE_EQ(scale->y_of(geometry::Length{}), scale->field.bottom());
    EXPECT_NEAR(in_deg(scale->angle_at(scale->x_of(degrees(41.3)))), 41.3, 1e-9);
    EXPECT_EQ(in_deg(scale->angle_at(-1000.0)), 0.0) << "no further than shut";
    EXPECT_NEAR(in_deg(scale->angle_at(1e6)), 68.0, 1e-9) << "nor than the stop";
    EXPECT_GE(in_mm(scale->top), 4.0) << "the needed gap is in sight";
    EXPECT_LE(in_mm(scale->top), 40.0) << "what is far off does not press what matters flat";
}

TEST(ClearancePlot, HasNoScaleWithoutADoor) {
    EXPECT_FALSE(clearance_scale({}, {330, 240}));
    EXPECT_FALSE(clearance_scale(invented(), {60, 40})) << "no room";
    ClearancePicture unknown = invented();
    unknown.sentence = "How this door moves is not measured yet.";
    EXPECT_FALSE(clearance_scale(unknown, {330, 240}));
    ClearancePlot plot;
    plot.show_picture(unknown);
    QSignalSpy wants(&plot, &ClearancePlot::wants_opening);
    QTest::mouseClick(&plot, Qt::LeftButton, {}, {100, 100});
    QTest::keyClick(&plot, Qt::Key_Right);
    EXPECT_EQ(wants.count(), 0);
    EXPECT_EQ(plot.accessibleDescription(), "How this door moves is not measured yet.");
}

TEST(ClearancePlot, PressingAndDraggingTurnTheDoorThere) {
    ClearancePlot plot;
    plot.resize(330, 240);
    plot.show_picture(invented());
    plot.show();
    const ClearanceScale scale = *clearance_scale(invented(), plot.size());
    const double pixel_deg = 68.0 / scale.field.width();
    Angle wanted;
    QObject::connect(&plot, &ClearancePlot::wants_opening, &plot, [&](Angle opening) { wanted = opening; });
    const auto at = [&](double deg) {
        return QPoint(static_cast<int>(std::lround(scale.x_of(degrees(deg)))),
                      static_cast<int>(scale.field.center().y()));
    };
    QTest::mousePress(&plot, Qt::LeftButton, {}, at(6.2));
    EXPECT_NEAR(in_deg(wanted), 6.2, pixel_deg);
    QTest::mouseMove(&plot, at(33.0));
    EXPECT_NEAR(in_deg(wanted), 33.0, pixel_deg);
    QTest::mouseRelease(&plot, Qt::LeftButton, {}, at(33.0));
    wanted = degrees(1.0);
    QTest::mouseClick(&plot, Qt::RightButton, {}, at(50.0));
    EXPECT_EQ(in_deg(wanted), in_deg(degrees(1.0))) << "the right button is for copying";
}

TEST(ClearancePlot, KeysTurnTheDoor) {
    ClearancePlot plot;
    plot.resize(330, 240);
    plot.show_picture(invented());
    QObject::connect(&plot, &ClearancePlot::wants_opening, &plot, [&](Angle opening) { plot.show_opening(opening); });
    const auto now = [&] { return in_deg(plot.picture().opening); };
    QTest::keyClick(&plot, Qt::Key_Right);
    EXPECT_NEAR(now(), 20.5, 1e-9);
    QTest::keyClick(&plot, Qt::Key_Left, Qt::ShiftModifier);
    EXPECT_NEAR(now(), 20.4, 1e-9);
    QTest::keyClick(&plot, Qt::Key_PageUp);
    EXPECT_NEAR(now(), 25.4, 1e-9);
    QTest::keyClick(&plot, Qt::Key_End);
    QTest::keyClick(&plot, Qt::Key_Right);
    EXPECT_NEAR(now(), 68.0, 1e-9) << "the stop is the stop";
    QTest::keyClick(&plot, Qt::Key_Home);
    QTest::keyClick(&plot, Qt::Key_PageDown);
    EXPECT_NEAR(now(), 0.0, 1e-9);
}

TEST(ClearancePlot, SaysInWordsWhatItShows) {
    ClearancePlot plot;
    plot.show_picture(invented());
    EXPECT_EQ(plot.title(), "front door, clearance by opening");
    EXPECT_EQ(plot.accessibleDescription(),
              "falls short, 1.90 at 6.2°, needs 4.00 mm. door at 20.0°, full opening 68.0°.");
    ClearancePicture old = invented();
    old.unit = core::BareUnit::in;
    old.old_lines = true;
    plot.show_picture(old);
    EXPECT_TRUE(plot.words().contains("needs 0.157 in")) << "4.0 / 25.4";
    EXPECT_TRUE(plot.words().contains("of an earlier state"));
}

TEST(ClearancePlot, DrawsTheWholeSheetAsItIsSeen) {
    ClearancePlot plot;
    plot.resize(330, 240);
    plot.show_picture(invented());
    const QImage seen = plot.grab().toImage().convertToFormat(QImage::Format_RGB32);
    EXPECT_EQ(seen, drawn(plot, seen.size())) << "what is printed is what is seen";
    for (const QSize size : {QSize(330, 240), QSize(480, 300), QSize(1200, 700)}) {
        const QImage image = drawn(plot, size);
        for (int x = 0; x < size.width(); ++x) {
            ASSERT_NE(image.pixel(x, 0), qRgb(255, 0, 255));
            ASSERT_EQ(image.pixel(x, 0), image.pixel(0, 0)) << "nothing runs over the edge";
            ASSERT_EQ(image.pixel(x, size.height() - 1), image.pixel(0, 0));
        }
        for (int y = 0; y < size.height(); ++y) {
            ASSERT_EQ(image.pixel(0, y), image.pixel(0, 0));
            ASSERT_EQ(image.pixel(size.width() - 1, y), image.pixel(0, 0));
        }
    }
}

TEST(ClearancePlot, ShowsOldCurvesPaler) {
    ClearancePlot plot;
    plot.resize(330, 240);
    plot.show_picture(invented());
    const QImage now = drawn(plot, plot.size());
    ClearancePicture old = invented();
    old.old_lines = true;
    plot.show_picture(old);
    EXPECT_NE(drawn(plot, plot.size()), now);
}

}  // namespace
}  // namespace sillwright::app
