#include "app/drawings/clipped_device.h"

#include <gtest/gtest.h>

#include <QImage>
#include <cmath>
#include <functional>
#include <random>

// Judged by Qt's own raster painter, which keeps clips.
namespace sillwright::app {
namespace {

using Draw = std::function<void(QPainter&)>;

QImage raster(const Draw& draw) {
    QImage image(200, 200, QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    painter.setRenderHint(QPainter::Antialiasing);
    draw(painter);
    return image;
}

QImage passed_on(const Draw& draw) {
    QImage image(200, 200, QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter to(&image);
    ClippedDevice device(to, image);
    QPainter painter(&device);
    painter.setRenderHint(QPainter::Antialiasing);
    draw(painter);
    painter.end();
    // The other painter never had a clip of its own.
    EXPECT_FALSE(to.hasClipping());
    return image;
}

/// Part of the pixels that differ by more than antialiasing of an edge may.
double part_that_differs(const QImage& a, const QImage& b) {
    int count = 0;
    for (int y = 0; y < a.height(); ++y) {
        for (int x = 0; x < a.width(); ++x) {
            count += std::abs(qGray(a.pixel(x, y)) - qGray(b.pixel(x, y))) > 100 ? 1 : 0;
        }
    }
    return count / (1.0 * a.width() * a.height());
}
constexpr double k_few = 0.002;

void expect_same(const Draw& draw) {
    const QImage expected = raster(draw);
    EXPECT_LT(part_that_differs(expected, passed_on(draw)), k_few);
    QImage blank(200, 200, QImage::Format_RGB32);
    blank.fill(Qt::white);
    EXPECT_GT(part_that_differs(expected, blank), k_few) << "something is drawn";
}

TEST(ClippedDevice, PassesOnWhatHasNoClip) {
    expect_same([](QPainter& p) {
        p.setBrush(Qt::darkGray);
        p.drawEllipse(QPointF(100, 100), 60, 40);
        p.setPen(QPen(Qt::black, 4, Qt::DashLine));
        p.drawLine(10, 20, 190, 60);
        p.drawText(QPointF(20, 180), "text");
        p.drawRect(QRectF(5, 5, 30, 30));
        p.drawPoint(100, 190);
    });
}

TEST(ClippedDevice, CutsOffAtARoundAndAtARectangle) {
    expect_same([](QPainter& p) {
        QPainterPath round;
        round.addEllipse(QPointF(100, 100), 50, 50);
        p.setClipPath(round);
        p.fillRect(QRectF(0, 0, 200, 90), Qt::black);
        p.setPen(QPen(Qt::black, 5));
        p.drawLine(0, 120, 200, 140);
        p.drawText(QPointF(30, 130), "a long text that is cut off");
    });
    expect_same([](QPainter& p) {
        p.setClipRect(QRectF(40.5, 30, 80, 100));
        p.setClipRect(QRectF(0, 60, 100, 200), Qt::IntersectClip);
        p.fillRect(QRectF(0, 0, 200, 200), Qt::black);
    });
}

TEST(ClippedDevice, AClipEndsWithRestoreAndWithSetClipping) {
    expect_same([](QPainter& p) {
        p.setClipRect(QRectF(0, 0, 150, 150));
        p.save();
        p.translate(50, 50);
        p.scale(2, 2);
        p.setClipRect(QRectF(0, 0, 20, 20), Qt::IntersectClip);
        p.fillRect(QRectF(-100, -100, 400, 400), Qt::black);
        p.restore();
        p.fillRect(QRectF(100, 100, 90, 90), Qt::black);
        p.setClipping(false);
        p.fillRect(QRectF(180, 10, 10, 180), Qt::black);
        p.setClipping(true);
        p.fillRect(QRectF(0, 170, 200, 10), Qt::black);
    });
}

TEST(ClippedDevice, CutsPicturesOff) {
    expect_same([](QPainter& p) {
        QImage image(10, 10, QImage::Format_RGB32);
        image.fill(Qt::black);
        QPainterPath round;
        round.addEllipse(QPointF(100, 100), 50, 50);
        p.setClipPath(round);
        p.drawImage(QRectF(90, 20, 100, 100), image);
        p.drawPixmap(QRectF(70, 120, 20, 20), QPixmap::fromImage(image), QRectF(0, 0, 10, 10));
        p.drawImage(QRectF(0, 0, 20, 20), image);
    });
}

TEST(ClippedDevice, AnythingAtRandomIsAsTheRasterHasIt) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> place(-40.0, 240.0);
    for (int scene = 0; scene < 40; ++scene) {
        std::vector<double> at;
        for (int i = 0; i < 40; ++i) {
            at.push_back(place(random));
        }
        const Draw draw = [&at](QPainter& p) {
            QPainterPath round;
            round.addEllipse(QPointF(at[0], at[1]), 40 + std::abs(at[2]) / 3, 60);
            p.save();
            p.rotate(at[3] / 10);
            p.setClipPath(round);
            p.setPen(QPen(Qt::black, 1 + std::abs(at[4]) / 30));
            p.setBrush(at[5] > 100 ? QBrush(Qt::gray) : QBrush(Qt::NoBrush));
            p.drawPolygon(QPolygonF({{at[6], at[7]}, {at[8], at[9]}, {at[10], at[11]}, {at[12], at[13]}}));
            p.drawPolyline(QPolygonF({{at[14], at[15]}, {at[16], at[17]}, {at[18], at[19]}}));
            p.restore();
            p.drawLine(QPointF(at[20], at[21]), QPointF(at[22], at[23]));
        };
        EXPECT_LT(part_that_differs(raster(draw), passed_on(draw)), k_few) << scene;
    }
}

}  // namespace
}  // namespace sillwright::app
