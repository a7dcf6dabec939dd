#include "app/drawings/network_drawing.h"

#include <gtest/gtest.h>

#include <QSignalSpy>
#include <QTest>

#include "app/link/network_of_job.h"
#include "tests/app/link/hand_made_network.h"

namespace sillwright::app {
namespace {

class NetworkDrawingTest : public testing::Test {
protected:
    NetworkDrawingTest() {
        drawing_.set_picture(network_of_job(made_.job, made_.results));
        drawing_.resize(900, 460);
        drawing_.show();
        QObject::connect(&drawing_, &NetworkDrawing::chose, &drawing_, [this](const Item& item) {
            chosen_ = item;
            drawing_.set_marked(item, {});
        });
    }
    HandMadeNetwork made_ = hand_made_network(8);
    NetworkDrawing drawing_;
    Item chosen_;
};

TEST_F(NetworkDrawingTest, NamesDoNotTouchEachOther) {
    const std::vector<QRectF> boxes = drawing_.name_boxes();
    ASSERT_EQ(boxes.size(), 2 * (made_.results.solution.points.size() + 1)) << "each twice, and the mirrored one";
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        EXPECT_TRUE(QRectF(drawing_.rect()).contains(boxes[i])) << i;
        for (std::size_t k = 0; k < i; ++k) {
            EXPECT_FALSE(boxes[i].intersects(boxes[k])) << i << " and " << k;
        }
    }
}

TEST_F(NetworkDrawingTest, APointIsChosenInEitherView) {
    for (const NetworkView view : {NetworkView::plan, NetworkView::side}) {
        chosen_ = {};
        QTest::mouseClick(&drawing_, Qt::LeftButton, {}, drawing_.place_of("H3", view)->toPoint());
        EXPECT_EQ(chosen_, (Item{Item::Kind::point, "H3"}));
    }
    EXPECT_FALSE(drawing_.place_of("H9", NetworkView::plan)) << "it is not placed";
}

TEST_F(NetworkDrawingTest, AReadingIsChosenByItsLine) {
    const QPointF a = *drawing_.place_of("A", NetworkView::plan);
    const QPointF h = *drawing_.place_of("B", NetworkView::plan);
    QTest::mouseClick(&drawing_, Qt::LeftButton, {}, (0.42 * a + 0.58 * h).toPoint());
    EXPECT_EQ(chosen_, (Item{Item::Kind::reading, "r1"})) << "the tie from A to B";
}

TEST_F(NetworkDrawingTest, KeysGoFromPointToPointAlongTheCar) {
    QTest::keyClick(&drawing_, Qt::Key_Right);
    EXPECT_EQ(chosen_.id, "A") << "the foremost";
    QTest::keyClick(&drawing_, Qt::Key_Right);
    EXPECT_EQ(chosen_.id, "H1");
    QTest::keyClick(&drawing_, Qt::Key_Left);
    QTest::keyClick(&drawing_, Qt::Key_Left);
    EXPECT_EQ(chosen_.id, "A") << "there is none before it";
}

TEST_F(NetworkDrawingTest, LooksCloserAtWhatIsUnderThePointer) {
    const QPointF before = *drawing_.place_of("H3", NetworkView::plan);
    const double across = QLineF(before, *drawing_.place_of("H4", NetworkView::plan)).length();
    for (int turns = 0; turns < 6; ++turns) {
        QWheelEvent event(before, drawing_.mapToGlobal(before), {}, {0, 120}, Qt::NoButton, {}, Qt::NoScrollPhase,
                          false);
        QCoreApplication::sendEvent(&drawing_, &event);
    }
    EXPECT_GT(drawing_.times_closer(), 3.0);
    EXPECT_LT(QLineF(*drawing_.place_of("H3", NetworkView::plan), before).length(), 1e-6) << "it stays there";
    EXPECT_NEAR(QLineF(before, *drawing_.place_of("H4", NetworkView::plan)).length(), across * drawing_.times_closer(),
                1e-6);
    EXPECT_NEAR(drawing_.place_of("H3", NetworkView::side)->x(), before.x(), 1e-6) << "below it in the side view";
    QTest::keyClick(&drawing_, Qt::Key_Home);
    EXPECT_EQ(drawing_.times_closer(), 1.0);
    EXPECT_LT(QLineF(*drawing_.place_of("H3", NetworkView::plan), before).length(), 1e-6) << "the whole again";
}

TEST_F(NetworkDrawingTest, SaysWhatMattersToWhoDoesNotSee) {
    const QString said = drawing_.accessibleDescription();
    EXPECT_TRUE(said.contains("268.4")) << said.toStdString();
    EXPECT_TRUE(said.contains("Tape from C to H8")) << said.toStdString();
}

TEST_F(NetworkDrawingTest, WithoutAPointItSaysWhy) {
    NetworkPicture none;
    none.problems = {"No mark holds the frame."};
    const QImage before = drawing_.grab().toImage();
    drawing_.set_picture(none);
    EXPECT_NE(drawing_.grab().toImage(), before);
    EXPECT_EQ(drawing_.exaggeration(), 1.0);
    QTest::keyClick(&drawing_, Qt::Key_Right);
    QTest::mouseClick(&drawing_, Qt::LeftButton, {}, QPoint(200, 200));
    EXPECT_FALSE(chosen_);
}

}  // namespace
}  // namespace sillwright::app
