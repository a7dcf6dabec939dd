#include "app/drawings/flange_drawing.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QImage>
#include <QMouseEvent>
#include <QSignalSpy>
#include <QTest>

namespace sillwright::app {
namespace {

constexpr double k_same_px = 1e-9;

/// Three mounts 300 mm apart on a flange 40 mm wide, the middle one the locator; hot, the outer ones go 3 mm outward.
FlangePicture three_holes() {
    FlangePicture picture;
    picture.rear_mm = 1000.0;
    picture.pitch_most_mm = 260.0;
    picture.warmth = true;
    for (int i = 0; i < 3; ++i) {
        FlangeHole hole;
        hole.mount = "H" + std::to_string(i + 1);
        hole.role = i == 1 ? core::HoleRole::locator : core::HoleRole::clearance;
        hole.along_mm = 200.0 + 300.0 * i;
        hole.across_mm = 20.0;
        hole.size_mm = 9.0;
        hole.screw_mm = 6.0;
        hole.head_mm = 16.0;
        hole.drawn = core::HoleSize{i == 1 ? 6.5 : 14.0, 6.5};
        hole.needed = core::HoleSize{i == 1 ? 6.5 : 15.0, 6.5};
        hole.hot_mm = 3.0 * (i - 1);
        hole.cold_mm = -2.0 * (i - 1);
        hole.covariance_mm2 = Eigen::Matrix2d{{0.25, 0.0}, {0.0, 0.16}};
        for (double along = hole.along_mm - 40.0; along <= hole.along_mm + 40.0; along += 10.0) {
            hole.rows.push_back({along, 6.0, 40.0});
        }
        picture.holes.push_back(hole);
    }
    return picture;
}

class FlangeDrawingTest : public testing::Test {
protected:
    FlangeDrawingTest() {
        drawing_.set_picture(three_holes());
        drawing_.resize(900, 400);
        drawing_.show();
        QObject::connect(&drawing_, &FlangeDrawing::chose, &drawing_, [this](const Item& item, double along_mm) {
            chosen_ = item;
            along_mm_ = along_mm;
            drawing_.set_marked(item, {});
        });
    }
    [[nodiscard]] double pixels() const { return drawing_.pixels_for_mm(QSizeF(drawing_.size())); }

    FlangeDrawing drawing_;
    Item chosen_;
    double along_mm_ = 0.0;
};

TEST_F(FlangeDrawingTest, WarmthMovesThePartOnTheBodyAtTrueScale) {
    const QPointF before = drawing_.place_of("H3");
    drawing_.set_warmth(1.0);
    EXPECT_NEAR(drawing_.place_of("H3").x() - before.x(), 3.0 * pixels(), k_same_px);
    EXPECT_NEAR(drawing_.place_of("H3").y(), before.y(), k_same_px);
    drawing_.set_warmth(-0.5);
    EXPECT_NEAR(drawing_.place_of("H3").x() - before.x(), -1.0 * pixels(), k_same_px);
    EXPECT_NEAR(drawing_.place_of("H2").x(), drawing_.pane_of("H2").center().x(), k_same_px) << "the locator stays";
}

TEST_F(FlangeDrawingTest, APaneIsChosen) {
    QTest::mouseClick(&drawing_, Qt::LeftButton, {},
                      (drawing_.pane_of("H3").topLeft() + QPointF(12.0, 12.0)).toPoint());
    EXPECT_EQ(chosen_, (Item{Item::Kind::mount, "H3"}));
    EXPECT_DOUBLE_EQ(along_mm_, 800.0);
    QTest::keyClick(&drawing_, Qt::Key_Left);
    EXPECT_EQ(chosen_.id, "H2");
    QTest::keyClick(&drawing_, Qt::Key_Right);
    QTest::keyClick(&drawing_, Qt::Key_Right);
    EXPECT_EQ(chosen_.id, "H3") << "the last one stays the last";
}

TEST_F(FlangeDrawingTest, AHoleIsMovedUnderTheHandByWhatTheHandMoves) {
    QSignalSpy taken(&drawing_, &FlangeDrawing::taken);
    QSignalSpy dropped(&drawing_, &FlangeDrawing::dropped);
    std::vector<double> shifts;
    QObject::connect(&drawing_, &FlangeDrawing::dragged, &drawing_, [&](double mm) { shifts.push_back(mm); });
    drawing_.set_warmth(1.0);  // where it is drawn now is taken hold of, and its place as drawn is told
    const QPoint from = drawing_.place_of("H1").toPoint();
    QTest::mousePress(&drawing_, Qt::LeftButton, {}, from);
    EXPECT_EQ(taken.count(), 0) << "pressing alone moves nothing";
    const int by = 25;
    QMouseEvent move(QEvent::MouseMove, QPointF(from + QPoint(by, 3)), QPointF(from + QPoint(by, 3)), Qt::NoButton,
                     Qt::LeftButton, {});
    QApplication::sendEvent(&drawing_, &move);
    QTest::mouseRelease(&drawing_, Qt::LeftButton, {}, from + QPoint(by, 3));
    ASSERT_EQ(shifts.size(), 1U);
    EXPECT_NEAR(shifts[0], by / pixels(), 1e-6);
    EXPECT_EQ(taken.count(), 1);
    EXPECT_EQ(dropped.count(), 1);
}

TEST_F(FlangeDrawingTest, BesideTheHoleNothingIsTaken) {
    QSignalSpy taken(&drawing_, &FlangeDrawing::taken);
    const QPoint beside = (drawing_.place_of("H1") + QPointF(0.0, 8.0 * pixels())).toPoint();
    QTest::mousePress(&drawing_, Qt::LeftButton, {}, beside);
    QMouseEvent move(QEvent::MouseMove, QPointF(beside + QPoint(9, 0)), QPointF(beside + QPoint(9, 0)), Qt::NoButton,
                     Qt::LeftButton, {});
    QApplication::sendEvent(&drawing_, &move);
    QTest::mouseRelease(&drawing_, Qt::LeftButton, {}, beside);
    EXPECT_EQ(taken.count(), 0);
}

// Ink of the part's hole is where place_of says, at every warmth and on paper of any size.
TEST_F(FlangeDrawingTest, HolesAreDrawnWhereTheyArePressed) {
    const QColor skirt = drawing_.colours().skirt;
    for (const double warmth : {-1.0, 0.0, 1.0}) {
        drawing_.set_warmth(warmth);
        QImage image(drawing_.size(), QImage::Format_RGB32);
        QPainter painter(&image);
        drawing_.draw(painter, QSizeF(drawing_.size()));
        painter.end();
        const QPointF middle = drawing_.place_of("H1");
        const double half = 14.0 * pixels() / 2.0;
        int ink = 0;
        for (int dx = -2; dx <= 2; ++dx) {
            const QColor there =
                image.pixelColor(static_cast<int>(middle.x() - half) + dx, static_cast<int>(std::lround(middle.y())));
            ink += std::abs(there.red() - skirt.red()) + std::abs(there.green() - skirt.green()) < 60 ? 1 : 0;
        }
        EXPECT_GE(ink, 1) << "at warmth " << warmth;
    }
}

TEST_F(FlangeDrawingTest, WithoutHolesItSaysWhy) {
    FlangePicture none;
    none.words = "No mount lands on a drawn flange yet.";
    drawing_.set_picture(none);
    EXPECT_EQ(drawing_.accessibleDescription(), QStringLiteral("No mount lands on a drawn flange yet."));
    EXPECT_TRUE(drawing_.place_of("H1").isNull());
}

}  // namespace
}  // namespace sillwright::app
