#include "app/desk/strip_desk.h"

#include <gtest/gtest.h>

#include <QImage>
#include <QLineEdit>
#include <QTest>
#include <QToolButton>
#include <cstdlib>

#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/drawings/strip_drawing.h"
#include "tests/app/link/estate.h"

// Expected places: Estate A's own numbers (samples/estate_a.sillwright).
namespace sillwright::app {
namespace {

using geometry::in_mm;
using geometry::millimetres;

class StripDeskTest : public testing::Test {
protected:
    StripDeskTest() {
        const auto results = estate();
        open_.open(results->job, {}, results);
        desk_.resize(1000, 190);
        desk_.show();
        focus_.go_to(millimetres(700.0));
    }

    [[nodiscard]] QPoint at(double along_mm, double height_mm) {
        return desk_.drawing().scale()->at({along_mm, height_mm}).toPoint();
    }
    void click(const QPoint& place) { QTest::mouseClick(&desk_.drawing(), Qt::LeftButton, {}, place); }
    [[nodiscard]] double along() const { return in_mm(focus_.along().value_or(millimetres(-1.0))); }
    [[nodiscard]] double pixel_mm() { return 1.0 / desk_.drawing().scale()->along; }
    template <class T>
    T* child(const char* name) {
        return desk_.findChild<T*>(name);
    }

    OpenJob open_;
    Focus focus_;
    StripDesk desk_{open_, focus_};
};

TEST_F(StripDeskTest, ChoosesWhatIsPressedAndGoesThere) {
    const StripPicture& picture = desk_.drawing().picture();
    const StripMount& mount = picture.mounts[6];
    click(at(mount.at_mm.x(), mount.at_mm.y()));
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::mount, "H7"}));
    EXPECT_EQ(along(), 1364.3);

    // The lower edge at station 8 is up 16.
    click(at(1530.0, 16.0));
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::node, "s8.6"}));
    EXPECT_EQ(along(), 1520.0);

    click(QPoint(at(380.0, 0.0).x(), 32));
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::station, "3"}));
    EXPECT_EQ(along(), 380.0);

    click(at(1070.0, 70.0));
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::keep_out, "side sensor, pillar foot"}));
    EXPECT_NEAR(along(), 1070.0, pixel_mm());

    click(at(600.0, 127.0));  // the front door's edge: 126 at 250 to 128 at 1040
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::door, "front door"}));
}

TEST_F(StripDeskTest, GoesToWhereTheEmptyStripIsPressed) {
    click(at(500.0, 70.0));
    EXPECT_NEAR(along(), 500.0, pixel_mm());
    EXPECT_FALSE(focus_.chosen());
}

TEST_F(StripDeskTest, ThePlumbLineIsDraggedLive) {
    QWidget* drawing = &desk_.drawing();
    const int y = at(0.0, 70.0).y();
    QTest::mousePress(drawing, Qt::LeftButton, {}, {at(700.0, 0.0).x(), y});
    QTest::mouseMove(drawing, {at(900.0, 0.0).x(), y});
    EXPECT_NEAR(along(), 900.0, pixel_mm());
    QTest::mouseMove(drawing, {at(1000.0, 0.0).x(), y});
    EXPECT_NEAR(along(), 1000.0, pixel_mm());
    QTest::mouseMove(drawing, {5000, y});
    EXPECT_EQ(along(), 1900.0) << "not beyond the end";
    QTest::mouseRelease(drawing, Qt::LeftButton, {}, {5000, y});
    EXPECT_EQ(along(), 1900.0);
}

TEST_F(StripDeskTest, StepsFromStationToStationAndNoFurther) {
    auto* before = child<QToolButton>("stationBefore");
    auto* beyond = child<QToolButton>("stationBeyond");
    QTest::mouseClick(beyond, Qt::LeftButton);
    EXPECT_EQ(along(), 850.0);
    QTest::mouseClick(before, Qt::LeftButton);
    EXPECT_EQ(along(), 610.0);
    focus_.go_to(millimetres(1900.0));
    EXPECT_FALSE(beyond->isEnabled());
    EXPECT_TRUE(before->isEnabled());
    focus_.go_to(millimetres(0.0));
    EXPECT_FALSE(before->isEnabled());
    EXPECT_TRUE(beyond->isEnabled());
    EXPECT_GE(before->width(), looks::k_target);
    EXPECT_GE(before->height(), looks::k_target);
}

TEST_F(StripDeskTest, IsWorkedByKeys) {
    QWidget* drawing = &desk_.drawing();
    QTest::keyClick(drawing, Qt::Key_Right);
    EXPECT_EQ(along(), 710.0);
    QTest::keyClick(drawing, Qt::Key_Left);
    EXPECT_EQ(along(), 700.0);
    QTest::keyClick(drawing, Qt::Key_PageDown);
    EXPECT_EQ(along(), 850.0);
    QTest::keyClick(drawing, Qt::Key_PageUp);
    EXPECT_EQ(along(), 610.0);
    QTest::keyClick(drawing, Qt::Key_End);
    EXPECT_EQ(along(), 1900.0);
    QTest::keyClick(drawing, Qt::Key_Home);
    EXPECT_EQ(along(), 0.0);
    QTest::keyClick(drawing, Qt::Key_Left);
    EXPECT_EQ(along(), 0.0);
}

TEST_F(StripDeskTest, TakesAPlaceAsItIsTyped) {
    auto* field = child<QLineEdit>("placeField");
    EXPECT_EQ(field->text(), "4.4 · 700 mm");
    const auto type = [&](const QString& text) {
        field->selectAll();
        QTest::keyClicks(field, text);
        QTest::keyClick(field, Qt::Key_Return);
    };
    type("1300 mm");
    EXPECT_EQ(along(), 1300.0);
    EXPECT_EQ(field->text(), "7.0 · 1300 mm");
    type("10 in");
    EXPECT_DOUBLE_EQ(along(), 254.0);
    type("5");
    EXPECT_EQ(along(), 850.0) << "the station of that name";
    type("nowhere");
    EXPECT_EQ(along(), 850.0);
    EXPECT_EQ(field->text(), "nowhere") << "left to be put right";
    type("9000 mm");
    EXPECT_EQ(along(), 850.0) << "off the strip";
}

TEST_F(StripDeskTest, SaysWhatIsUnderThePointerToAllDrawings) {
    const StripMount& mount = desk_.drawing().picture().mounts[3];
    QTest::mouseMove(&desk_.drawing(), at(mount.at_mm.x(), mount.at_mm.y()));
    EXPECT_EQ(focus_.pointed(), (Item{Item::Kind::mount, "H4"}));
    EXPECT_EQ(mount.words, "H4, slot 9 × 14, ± 0.5 along, ± 0.5 mm across (1 sd)");
}

TEST_F(StripDeskTest, IsOfTheJobAsItIsOrSaysSo) {
    EXPECT_TRUE(desk_.drawing().picture().note.empty());
    core::Job other = open_.job();
    other.revision = "D";
    open_.apply(core::Edit{other, "raise the revision"});
    EXPECT_EQ(desk_.drawing().picture().note, "being computed");
    ASSERT_TRUE(QTest::qWaitFor([&] { return open_.current(); }, 60'000));
    EXPECT_TRUE(desk_.drawing().picture().note.empty());
}

TEST_F(StripDeskTest, PrintsAsItIsSeen) {
    const StripDrawing& drawing = desk_.drawing();
    QImage printed(drawing.size(), QImage::Format_RGB32);
    QPainter painter(&printed);
    drawing.draw(painter, drawing.size());
    painter.end();
    QImage seen(drawing.size(), QImage::Format_RGB32);
    desk_.drawing().render(&seen, {}, {}, QWidget::DrawWindowBackground);  // without the field over it
    const QRect below(0, 44, drawing.width(), drawing.height() - 44);
    constexpr int k_same_grey = 16;  // of 255: what lies over the lines is blended once more on the screen
    int other = 0;
    for (int y = below.top() + 2; y < below.bottom() - 2; ++y) {
        for (int x = 2; x < below.right() - 2; ++x) {
            other += std::abs(qGray(printed.pixel(x, y)) - qGray(seen.pixel(x, y))) > k_same_grey ? 1 : 0;
        }
    }
    EXPECT_LT(other, below.width() * below.height() / 1000) << "but for roundings of the letters";
}

}  // namespace
}  // namespace sillwright::app
