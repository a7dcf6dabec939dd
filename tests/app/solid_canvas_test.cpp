// Runs where there is X11 with GLX, a virtual one being enough.
#include "app/drawings/solid_canvas.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QElapsedTimer>
#include <QImage>
#include <QMainWindow>
#include <QMouseEvent>
#include <QSignalSpy>
#include <QTest>
#include <cstdio>
#include <ctime>

#include "app/drawings/solid_view.h"
#include "app/link/solids_of_job.h"
#include "app/looks.h"
#include "tests/app/invented_job.h"
#include "tests/app/link/estate.h"

namespace sillwright::app {
namespace {

using geometry::degrees;
using geometry::millimetres;
using looks::Tone;

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

    SolidCanvas* canvas() { return view_->canvas(); }
    /// What the widget shows once nothing moves.
    QImage picture() {
        QApplication::processEvents();
        canvas()->settle();
        return canvas()->grab().toImage();
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
            sum += pixel.saturation() > 60 && std::min(apart, 360 - apart) < 12 ? 1 : 0;
        }
    }
    return sum;
}

int count_exactly(const QImage& image, const QColor& colour) {
    int sum = 0;
    for (int y = 0; y < image.height(); ++y) {
        for (int x = 0; x < image.width(); ++x) {
            sum += image.pixelColor(x, y) == colour ? 1 : 0;
        }
    }
    return sum;
}

int count_apart(const QImage& a, const QImage& b) {
    int sum = 0;
    for (int y = 0; y < std::min(a.height(), b.height()); ++y) {
        for (int x = 0; x < std::min(a.width(), b.width()); ++x) {
            sum += a.pixel(x, y) != b.pixel(x, y) ? 1 : 0;
        }
    }
    return sum;
}

SolidDimension dimension() {
    return {{700, 831, 118}, {700, 840, 180}, "1.90 mm", core::State::falls_short, "front door", degrees(6.2)};
}

TEST_F(SolidCanvasOnX11, ShowsDoorAndSkirtOnPaper) {
    const QImage image = picture();
    EXPECT_GT(count_like(image, looks::colours(Tone::light).skirt), 500);
    EXPECT_GT(count_like(image, looks::colours(Tone::light).door), 500);
    EXPECT_EQ(image.pixelColor(3, 3), looks::colours(Tone::light).paper) << "the colour of paper, not darker";
}

TEST_F(SolidCanvasOnX11, IsDarkOnDarkPaper) {
    window_.setPalette(looks::palette(Tone::dark));
    const QImage image = picture();
    EXPECT_EQ(image.pixelColor(3, 3), looks::colours(Tone::dark).paper);
    EXPECT_GT(count_like(image, looks::colours(Tone::dark).skirt), 500);
    EXPECT_GT(count_like(image, looks::colours(Tone::dark).door), 500);
}

TEST_F(SolidCanvasOnX11, TheDoorTurnsAndComesBack) {
    const QImage shut = picture();
    view_->turn("front door", degrees(60));
    const QImage open = picture();
    EXPECT_GT(count_apart(open, shut), 1000);
    EXPECT_GT(count_like(open, looks::colours(Tone::light).door), 500);
    view_->turn("front door", degrees(0));
    EXPECT_EQ(picture(), shut);
}

TEST_F(SolidCanvasOnX11, TheSectionPlaneMovesWithItsPlace) {
    const QImage without = picture();
    view_->show_section(millimetres(700));
    const QImage here = picture();
    EXPECT_GT(count_apart(here, without), 200) << "a frame, and a line round the bodies";
    view_->show_section(millimetres(900));
    const QImage there = picture();
    EXPECT_GT(count_apart(there, here), 200);
    view_->show_section(std::nullopt);
    EXPECT_EQ(picture(), without);
}

TEST_F(SolidCanvasOnX11, TheDimensionHasItsStatesColourWhereItHolds) {
    for (const Tone tone : {Tone::light, Tone::dark}) {
        window_.setPalette(looks::palette(tone));
        const QColor colour = looks::text_colour(core::State::falls_short, tone);
        view_->show_dimension(std::nullopt);
        EXPECT_EQ(count_exactly(picture(), colour), 0);
        view_->turn("front door", degrees(6.2));
        view_->show_dimension(dimension());
        EXPECT_GT(count_exactly(picture(), colour), 100);
        view_->turn("front door", degrees(30));
        const QImage elsewhere = picture();
        // The shape of the state keeps its colour; line and number are grey.
        EXPECT_LT(count_exactly(elsewhere, colour), 140);
        EXPECT_GT(count_exactly(elsewhere, looks::colours(tone).pencil), 50);
    }
}

TEST_F(SolidCanvasOnX11, DraggingTurnsThePictureTheMiddleButtonMovesIt) {
    const QImage before = picture();
    const QPoint middle = canvas()->rect().center();
    for (const Qt::MouseButton button : {Qt::LeftButton, Qt::MiddleButton}) {
        const SolidLook look = canvas()->look();
        QTest::mousePress(canvas(), button, {}, middle);
        // QTest's own mouse move carries no button.
        for (int i = 1; i <= 10; ++i) {
            const QPointF at = middle + QPoint(8 * i, 3 * i);
            QMouseEvent move(QEvent::MouseMove, at, canvas()->mapToGlobal(at), Qt::NoButton, button, {});
            QApplication::sendEvent(canvas(), &move);
        }
        QTest::mouseRelease(canvas(), button, {}, middle + QPoint(80, 30));
        EXPECT_EQ(canvas()->look().around == look.around, button == Qt::MiddleButton);
        EXPECT_EQ(canvas()->look().centre_mm == look.centre_mm, button == Qt::LeftButton);
        EXPECT_GT(count_apart(picture(), before), 1000);
    }
    EXPECT_GT(count_like(picture(), looks::colours(Tone::light).skirt), 200);
    QTest::keyClick(canvas(), Qt::Key_Home);
    canvas()->look_from(LookFrom::corner);
    EXPECT_LT(count_apart(picture(), before), 1200) << "all but the frame of the focus";
}

TEST_F(SolidCanvasOnX11, KeysTurnAndZoom) {
    const SolidLook before = canvas()->look();
    QTest::keyClick(canvas(), Qt::Key_Right);
    EXPECT_NEAR(geometry::in_deg(before.around - canvas()->look().around), 5.0, 1e-9);
    QTest::keyClick(canvas(), Qt::Key_Down);
    EXPECT_NEAR(geometry::in_deg(canvas()->look().above - before.above), 5.0, 1e-9);
    QTest::keyClick(canvas(), Qt::Key_Plus);
    EXPECT_LT(canvas()->look().across, before.across);
    QTest::keyClick(canvas(), Qt::Key_Minus);
    EXPECT_NEAR(in_mm(canvas()->look().across), in_mm(before.across), 1e-9);
}

TEST_F(SolidCanvasOnX11, APressChoosesWhatIsUnderIt) {
    QSignalSpy pressed(canvas(), &SolidCanvas::pressed);
    const QSizeF sheet(canvas()->size());
    // The middle of the door's outer face, and of the skirt's.
    QTest::mouseClick(canvas(), Qt::LeftButton, {}, canvas()->look().on_sheet({600, 800, 350}, sheet).toPoint());
    ASSERT_EQ(pressed.count(), 1);
    EXPECT_EQ(pressed.at(0).at(0).value<SolidPart>(), (SolidPart{SolidPart::Kind::door, "front door"}));
    QTest::mouseClick(canvas(), Qt::LeftButton, {}, canvas()->look().on_sheet({600, 863, 60}, sheet).toPoint());
    ASSERT_EQ(pressed.count(), 2);
    EXPECT_EQ(pressed.at(1).at(0).value<SolidPart>(), (SolidPart{SolidPart::Kind::skirt, "skirt"}));
    EXPECT_NEAR(pressed.at(1).at(1).value<Eigen::Vector3d>().x(), 600.0, 10.0);
    QTest::mouseClick(canvas(), Qt::LeftButton, {}, {4, 4});
    EXPECT_EQ(pressed.count(), 2) << "bare paper";
}

TEST_F(SolidCanvasOnX11, TheChosenDoorStandsOut) {
    const QImage before = picture();
    view_->show_chosen({SolidPart::Kind::door, "front door"});
    EXPECT_GT(count_apart(picture(), before), 200);
    view_->show_chosen({});
    EXPECT_EQ(picture(), before);
}

TEST_F(SolidCanvasOnX11, SurvivesAnotherSizeAnotherWindowAndHiding) {
    window_.resize(500, 700);
    EXPECT_GT(count_like(picture(), looks::colours(Tone::light).skirt), 200);
    QMainWindow other;
    other.setCentralWidget(view_);
    other.resize(700, 400);
    other.show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&other));
    EXPECT_GT(count_like(picture(), looks::colours(Tone::light).skirt), 200);
    const QImage before = picture();
    view_->hide();
    view_->show();
    QApplication::processEvents();
    EXPECT_EQ(picture(), before);
    window_.setCentralWidget(view_);
}

TEST_F(SolidCanvasOnX11, AnotherJobReplacesTheFirst) {
    SolidScene skirt_only = invented_job().solids().value();
    skirt_only.bodies.erase(skirt_only.bodies.begin(), skirt_only.bodies.begin() + 2);
    skirt_only.doors.clear();
    view_->show_scene(skirt_only);
    EXPECT_EQ(count_like(picture(), looks::colours(Tone::light).door), 0);
    EXPECT_GT(count_like(picture(), looks::colours(Tone::light).skirt), 500);
    view_->show_scene({});
    EXPECT_EQ(count_like(picture(), looks::colours(Tone::light).skirt), 0);
}

TEST_F(SolidCanvasOnX11, PrintsAsSeenInAnySize) {
    const QImage printed = view_->picture({1600, 1000});
    ASSERT_EQ(printed.size(), QSize(1600, 1000));
    // Twice as large on either side: four times the pixels, edges aside.
    const double skirt = count_like(picture(), looks::colours(Tone::light).skirt);
    const double scale = std::pow(1000.0 / canvas()->height(), 2);
    EXPECT_NEAR(count_like(printed, looks::colours(Tone::light).skirt) / (scale * skirt), 1.0, 0.1);
}

/// Of all threads of this process, in milliseconds.
double processor_ms() {
    return 1000.0 * static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

/// 20 pictures a second on two processors leave each 100 ms of processor time. That is what is held to:
/// how many come in a second says more of what else the machine does.
TEST_F(SolidCanvasOnX11, TheDoorTurnsFastEnough) {
    view_->show_scene(solids_of_job(*estate()).value());
    view_->show_section(millimetres(700));
    window_.resize(940, 720 + view_->height() - canvas()->height());
    QApplication::processEvents();
    window_.resize(940, 720 + view_->height() - canvas()->height());
    QApplication::processEvents();
    ASSERT_EQ(canvas()->size(), QSize(940, 720));
    canvas()->settle();
    QSignalSpy painted(canvas(), &SolidCanvas::painted);
    QElapsedTimer time;
    time.start();
    const double before_ms = processor_ms();
    constexpr int pictures = 40;
    for (int i = 1; i <= pictures; ++i) {
        view_->turn("front door", degrees(1.5 * i));
        const auto before = painted.count();
        while (painted.count() == before && time.elapsed() < 60000) {
            QApplication::processEvents(QEventLoop::WaitForMoreEvents, 5);
        }
    }
    const double rate = pictures * 1000.0 / static_cast<double>(time.elapsed());
    const double each_ms = (processor_ms() - before_ms) / pictures;
    std::printf("door turning at 940x720: %.1f pictures a second, %.0f ms of processor time each\n", rate, each_ms);
    // 45 ms on two cores; three times that was met on a slow day. Bodies made anew at every turn take far more.
    EXPECT_LT(each_ms, 250.0);
    EXPECT_GT(rate, 1.0);
}

/// The window's own thread only hands the picture over: it is never held up by the drawing.
TEST_F(SolidCanvasOnX11, TurningTakesNoTimeOfTheWindow) {
    view_->show_scene(solids_of_job(*estate()).value());
    canvas()->settle();
    QElapsedTimer time;
    double longest_ms = 0.0;
    for (int i = 1; i <= 40; ++i) {
        time.start();
        view_->turn("front door", degrees(1.5 * i));
        longest_ms = std::max(longest_ms, static_cast<double>(time.nsecsElapsed()) * 1e-6);
    }
    std::printf("asking for a picture takes at most %.2f ms\n", longest_ms);
    EXPECT_LT(longest_ms, 20.0);
}

}  // namespace
}  // namespace sillwright::app
