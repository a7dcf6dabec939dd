// Runs where there is X11 with GLX, a virtual one being enough.
#include "app/drawings/solid_canvas.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QImage>
#include <QMainWindow>
#include <QMouseEvent>
#include <QSlider>
#include <QTest>

#include "app/drawings/solid_view.h"
#include "app/looks.h"
#include "tests/app/invented_job.h"

namespace sillwright::app {
namespace {

class SolidCanvasOnX11 : public testing::Test {
protected:
    void SetUp() override {
        if (qEnvironmentVariableIsEmpty("SILLWRIGHT_TEST_ON_X11")) {
            GTEST_SKIP() << "needs X11; run through xvfb-run with SILLWRIGHT_TEST_ON_X11 set";
        }
        ASSERT_EQ(why_no_solid_picture(), "");
        view_ = new SolidView;
        window_.setCentralWidget(view_);
        window_.resize(800, 500);
        view_->show_scene(invented_job().solids().value());
        window_.show();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(&window_));
    }

    SolidCanvas* canvas() { return view_->findChild<SolidCanvas*>("solidCanvas"); }
    QImage picture() {
        QApplication::processEvents();
        return canvas()->grabFramebuffer();
    }

    QMainWindow window_;
    SolidView* view_ = nullptr;
};

/// Pixels whose hue and strength are those of `colour`, in whatever light.
int count_like(const QImage& image, const QColor& colour) {
    int sum = 0;
    for (int y = 0; y < image.height(); ++y) {
        for (int x = 0; x < image.width(); ++x) {
            const QColor pixel = image.pixelColor(x, y);
            const int apart = std::abs(pixel.hue() - colour.hue());
            sum += pixel.saturation() > 80 && std::min(apart, 360 - apart) < 12 ? 1 : 0;
        }
    }
    return sum;
}

TEST_F(SolidCanvasOnX11, ShowsDoorAndSkirtOnPaper) {
    const QImage image = picture();
    EXPECT_GT(count_like(image, looks::colours(looks::Tone::light).skirt), 500);
    EXPECT_GT(count_like(image, looks::colours(looks::Tone::light).door), 500);
    const QColor corner = image.pixelColor(2, 2);
    EXPECT_NEAR(corner.red(), looks::colours(looks::Tone::light).paper.red(), 3) << "the colour of paper, not darker";
    EXPECT_NEAR(corner.blue(), looks::colours(looks::Tone::light).paper.blue(), 3);
}

TEST_F(SolidCanvasOnX11, TheSliderTurnsTheDoorAndBack) {
    const QImage shut = picture();
    auto* slider = view_->findChild<QSlider*>("doorSlider");
    slider->setValue(600);
    const QImage open = picture();
    EXPECT_NE(open, shut);
    EXPECT_GT(count_like(open, looks::colours(looks::Tone::light).door), 500);
    slider->setValue(0);
    EXPECT_EQ(picture(), shut);
}

TEST_F(SolidCanvasOnX11, DraggingTurnsThePicture) {
    const QImage before = picture();
    const QPoint middle = canvas()->rect().center();
    QTest::mousePress(canvas(), Qt::LeftButton, {}, middle);
    // QTest's own mouse move carries no button.
    for (int i = 1; i <= 10; ++i) {
        const QPointF at = middle + QPoint(8 * i, 3 * i);
        QMouseEvent move(QEvent::MouseMove, at, canvas()->mapToGlobal(at), Qt::NoButton, Qt::LeftButton, {});
        QApplication::sendEvent(canvas(), &move);
        picture();
    }
    QTest::mouseRelease(canvas(), Qt::LeftButton, {}, middle + QPoint(80, 30));
    EXPECT_NE(picture(), before);
    EXPECT_GT(count_like(picture(), looks::colours(looks::Tone::light).skirt), 200);
}

TEST_F(SolidCanvasOnX11, SurvivesAnotherSizeAndAnotherWindow) {
    window_.resize(500, 700);
    QApplication::processEvents();
    EXPECT_GT(count_like(picture(), looks::colours(looks::Tone::light).skirt), 200);
    QMainWindow other;
    other.setCentralWidget(view_);
    other.resize(700, 400);
    other.show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&other));
    EXPECT_GT(count_like(picture(), looks::colours(looks::Tone::light).skirt), 200);
    window_.setCentralWidget(view_);
}

TEST_F(SolidCanvasOnX11, AnotherJobReplacesTheFirst) {
    SolidScene skirt_only = invented_job().solids().value();
    skirt_only.bodies.erase(skirt_only.bodies.begin(), skirt_only.bodies.begin() + 2);
    skirt_only.doors.clear();
    view_->show_scene(skirt_only);
    EXPECT_EQ(count_like(picture(), looks::colours(looks::Tone::light).door), 0);
    EXPECT_GT(count_like(picture(), looks::colours(looks::Tone::light).skirt), 500);
    view_->show_scene({});
    EXPECT_EQ(count_like(picture(), looks::colours(looks::Tone::light).skirt), 0);
}

}  // namespace
}  // namespace sillwright::app
