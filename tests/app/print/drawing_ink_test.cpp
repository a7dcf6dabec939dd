#include "app/print/drawing_ink.h"

#include <gtest/gtest.h>

#include <QImage>

namespace sillwright::app::print {
namespace {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using geometry::degrees;
using geometry::millimetres;

TEST(DrawingInk, BoxHoldsArcsAndWords) {
    geometry::Drawing drawing;
    drawing.layers = {{"NOTE", 7}};
    drawing.entities.push_back(
        {"NOTE", geometry::DrawnArc{{0.0, 0.0}, millimetres(10.0), degrees(0.0), degrees(180.0)}});
    AlignedBox2d box = drawn_box(drawing);
    EXPECT_NEAR(box.max().y(), 10.0, 0.01);
    EXPECT_NEAR(box.min().y(), 0.0, 1e-9);
    drawing.entities.push_back({"NOTE", geometry::DrawnText{{50.0, 20.0}, millimetres(4.0), {}, "HHHH"}});
    box = drawn_box(drawing);
    EXPECT_NEAR(box.max().y(), 24.0, 1e-9);
    EXPECT_GT(box.max().x(), 58.0);
    EXPECT_LT(box.max().x(), 75.0);
}

TEST(DrawingInk, KnowsWhatReachesIntoABox) {
    const AlignedBox2d box(Vector2d(0.0, 0.0), Vector2d(10.0, 10.0));
    EXPECT_TRUE(reaches_into(geometry::DrawnLine{{-5.0, 5.0}, {20.0, 6.0}}, box));
    EXPECT_FALSE(reaches_into(geometry::DrawnLine{{-5.0, 5.0}, {5.0, 25.0}}, box));
    EXPECT_FALSE(reaches_into(geometry::DrawnLine{{-5.0, 12.0}, {20.0, 12.0}}, box));
    // A circle round the box has nothing inside it.
    EXPECT_FALSE(reaches_into(geometry::DrawnCircle{{5.0, 5.0}, millimetres(20.0)}, box));
    EXPECT_TRUE(reaches_into(geometry::DrawnCircle{{15.0, 5.0}, millimetres(6.0)}, box));
    EXPECT_TRUE(reaches_into(geometry::DrawnPoint{{1.0, 1.0}}, box));
}

TEST(DrawingInk, DrawsUpUpwards) {
    geometry::Drawing drawing;
    drawing.layers = {{"CUT_OUTSIDE", 7}};
    drawing.entities.push_back({"CUT_OUTSIDE", geometry::DrawnLine{{0.0, 80.0}, {100.0, 80.0}}});
    QImage image(100, 100, QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    draw_drawing(painter, drawing, {1.0, QPointF(0.0, 100.0)}, 1.5);
    painter.end();
    EXPECT_LT(qGray(image.pixel(50, 20)), 80);
    EXPECT_EQ(qGray(image.pixel(50, 80)), 255);
}

}  // namespace
}  // namespace sillwright::app::print
