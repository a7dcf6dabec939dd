#include "app/desk/section_desk.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QContextMenuEvent>
#include <QLineEdit>
#include <QMenu>
#include <QPushButton>
#include <QtTest>
#include <algorithm>
#include <cmath>

#include "geometry/profile.h"
#include "tests/app/link/estate.h"

// Expected values: the sample job's own numbers; hand counts.
namespace sillwright::app {
namespace {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::millimetres;

class SectionDeskTest : public testing::Test {
protected:
    SectionDeskTest() {
        open_.open(evaluation_->job, SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright", evaluation_);
        focus_.go_to(millimetres(850));  // station 5
        QObject::connect(&open_, &OpenJob::refused, &desk_,
                         [](const QString& sentence) { ADD_FAILURE() << sentence.toStdString(); });
        desk_.resize(1000, 700);
        desk_.show();
        (void)QTest::qWaitForWindowExposed(&desk_);
    }

    SectionDrawing& paper() { return desk_.drawing(); }
    template <class T>
    T& child(const char* name) {
        T* found = desk_.findChild<T*>(name);
        EXPECT_NE(found, nullptr) << name;
        return *found;
    }

    [[nodiscard]] const core::Node& node(const std::string& id) const {
        const auto place = core::find_node(open_.job(), id).value();
        return core::drawn(open_.job(), place.drawn).sections[place.section].nodes[place.node];
    }
    [[nodiscard]] Vector2d place(const std::string& id) const {
        return {in_mm(node(id).out.value), in_mm(node(id).up.value)};
    }
    /// Of the skirt's section at station 5.
    [[nodiscard]] std::string node_named(const std::string& name) const {
        for (const core::Section& section : open_.job().skirt.pieces[0].drawn.sections) {
            for (const core::Node& one : section.nodes) {
                if (section.station == "5" && one.name == name) {
                    return one.id;
                }
            }
        }
        return "";
    }

    void mouse(QEvent::Type type, const QPointF& at, Qt::MouseButton button, Qt::MouseButtons buttons,
               Qt::KeyboardModifiers keys = Qt::NoModifier) {
        QMouseEvent event(type, at, paper().mapToGlobal(at), button, buttons, keys);
        QCoreApplication::sendEvent(&paper(), &event);
    }
    void press(const QPointF& at, Qt::KeyboardModifiers keys = Qt::NoModifier) {
        mouse(QEvent::MouseButtonPress, at, Qt::LeftButton, Qt::LeftButton, keys);
    }
    void move(const QPointF& at, Qt::KeyboardModifiers keys = Qt::NoModifier) {
        mouse(QEvent::MouseMove, at, Qt::NoButton, Qt::LeftButton, keys);
    }
    void release(const QPointF& at, Qt::KeyboardModifiers keys = Qt::NoModifier) {
        mouse(QEvent::MouseButtonRelease, at, Qt::LeftButton, Qt::NoButton, keys);
    }
    void click(const QPointF& at, Qt::KeyboardModifiers keys = Qt::NoModifier) {
        press(at, keys);
        release(at, keys);
    }

    std::shared_ptr<const core::Evaluation> evaluation_ = estate();
    OpenJob open_;
    Focus focus_;
    SectionDesk desk_{open_, focus_};
};

TEST_F(SectionDeskTest, DraggingANodeMovesItInOneStep) {
    const std::string id = node_named("shelf edge");
    const Vector2d from = place(id);
    const QPointF at = paper().on_paper(from);
    press(at);
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::node, id}));
    move(paper().on_paper(from + Vector2d(3, 1)));
    move(paper().on_paper(from + Vector2d(5.2, 2.1)));
    EXPECT_TRUE(open_.dragging());
    // What is drawn follows the hand: the tick of the node, at once.
    const auto drawn = std::find_if(paper().picture().nodes.begin(), paper().picture().nodes.end(),
                                    [&](const SectionNode& one) { return one.id == id; });
    ASSERT_NE(drawn, paper().picture().nodes.end());
    EXPECT_LT((drawn->at_mm - from - Vector2d(5.2, 2.1)).norm(), 1.0);
    release(paper().on_paper(from + Vector2d(5.2, 2.1)));
    // Whole millimetres are within reach at this scale.
    EXPECT_NEAR(place(id).x(), std::round(from.x() + 5.2), 1e-9);
    EXPECT_NEAR(place(id).y(), std::round(from.y() + 2.1), 1e-9);
    EXPECT_EQ(open_.history().count(), 1);
    open_.history().undo();
    EXPECT_TRUE(open_.job() == evaluation_->job);
}

TEST_F(SectionDeskTest, EscapePutsBackWhatIsDragged) {
    const std::string id = node_named("bead");
    const Vector2d from = place(id);
    press(paper().on_paper(from));
    move(paper().on_paper(from + Vector2d(9, 0)));
    QTest::keyClick(&paper(), Qt::Key_Escape);
    release(paper().on_paper(from + Vector2d(9, 0)));
    EXPECT_TRUE(open_.job() == evaluation_->job);
    EXPECT_EQ(open_.history().count(), 0);
}

TEST_F(SectionDeskTest, AMountLandsOnTheProfile) {
    QTest::mouseClick(&child<QPushButton>("placeMountHand"), Qt::LeftButton);
    // The floor side of the sill between pinch weld and turn, 46 out: 16.3 to 16.9 up.
    const QPointF at = paper().on_paper({46.3, 17.4});
    click(at);
    ASSERT_EQ(open_.job().mounts.size(), evaluation_->job.mounts.size() + 1);
    const core::Mount& mount = open_.job().mounts.back();
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::mount, mount.name}));
    const auto line = evaluation_->car.body->section_at(millimetres(850));
    const Vector2d placed(in_mm(mount.at.out.value), in_mm(mount.at.up.value));
    EXPECT_LT(in_mm(geometry::nearest_point(line.value(), placed).distance), 0.05);
    EXPECT_NEAR(placed.x(), 46.0, 1e-6) << "whole millimetres along the line's greater direction";
    EXPECT_EQ(in_mm(mount.at.along.value), 850.0);
    EXPECT_EQ(open_.history().count(), 1);
}

TEST_F(SectionDeskTest, LettingGoOfTheTagPutsTheNodeWhereTheHandHadIt) {
    const std::string id = node_named("shelf edge");
    const Vector2d from = place(id);
    press(paper().on_paper(from));
    move(paper().on_paper(from + Vector2d(10.3, 6.4)));
    release(paper().on_paper(from + Vector2d(10.3, 6.4)));
    auto& tag = child<QPushButton>("snapTag");
    ASSERT_TRUE(tag.isVisible());
    EXPECT_EQ(tag.text(), "whole millimetres");
    QTest::mouseClick(&tag, Qt::LeftButton);
    EXPECT_LT((place(id) - from - Vector2d(10.3, 6.4)).norm(), 1e-6);
    EXPECT_EQ(open_.history().count(), 1) << "in the place of the step that was drawn to whole millimetres";
    EXPECT_FALSE(tag.isVisible());
}

TEST_F(SectionDeskTest, ShiftDrawsToNothing) {
    const std::string id = node_named("shelf edge");
    const Vector2d from = place(id);
    press(paper().on_paper(from));
    move(paper().on_paper(from + Vector2d(10.3, 6.4)), Qt::ShiftModifier);
    release(paper().on_paper(from + Vector2d(10.3, 6.4)), Qt::ShiftModifier);
    EXPECT_LT((place(id) - from - Vector2d(10.3, 6.4)).norm(), 1e-6);
    EXPECT_FALSE(child<QPushButton>("snapTag").isVisible());
}

TEST_F(SectionDeskTest, ANumberTypedForAChosenNodeIsKeptAsTyped) {
    const std::string id = node_named("shelf edge");
    click(paper().on_paper(place(id)));
    QTest::keyClicks(&paper(), "5");
    auto& out = child<QLineEdit>("outNumber");
    ASSERT_TRUE(out.isVisible());
    QTest::keyClicks(&out, " 3/4\"");
    QTest::keyClick(&out, Qt::Key_Return);
    EXPECT_FALSE(out.isVisible());
    // 5 3/4 in = 5.75 * 25.4 mm
    EXPECT_DOUBLE_EQ(in_mm(node(id).out.value), 146.05);
    EXPECT_EQ(node(id).out.typed, "5 3/4\"");
    EXPECT_EQ(open_.history().count(), 1);
    const auto shown = std::find_if(paper().picture().nodes.begin(), paper().picture().nodes.end(),
                                    [&](const SectionNode& one) { return one.id == id; });
    ASSERT_NE(shown, paper().picture().nodes.end());
    EXPECT_TRUE(shown->out.typed);
    EXPECT_EQ(shown->out.text, "5 3/4\"");
    EXPECT_FALSE(shown->up.typed);
}

TEST_F(SectionDeskTest, AKeyThatTheNumberHasNoUseForGoesNoFurther) {
    const std::string id = node_named("shelf edge");
    click(paper().on_paper(place(id)));
    QTest::keyClicks(&paper(), "5");
    auto& out = child<QLineEdit>("outNumber");
    ASSERT_TRUE(out.isVisible());
    // The field sends it up to the drawing; sent down again it would go round for ever.
    QTest::keyClick(&out, Qt::Key_F3, Qt::AltModifier);
    QTest::keyClick(&out, Qt::Key_F7);
    QTest::keyClick(&paper(), Qt::Key_F7);
    EXPECT_TRUE(out.isVisible());
    EXPECT_EQ(out.text(), "5");
}

TEST_F(SectionDeskTest, TabWritesTheOtherNumber) {
    const std::string id = node_named("shelf edge");
    click(paper().on_paper(place(id)));
    QTest::keyClick(&paper(), Qt::Key_Return);
    auto& out = child<QLineEdit>("outNumber");
    QTest::keyClicks(&out, "140");
    QTest::keyClick(&out, Qt::Key_Tab);
    auto& up = child<QLineEdit>("upNumber");
    EXPECT_FALSE(out.isVisible());
    ASSERT_TRUE(up.isVisible());
    QTest::keyClicks(&up, "12 cm");
    QTest::keyClick(&up, Qt::Key_Return);
    EXPECT_EQ(place(id), Vector2d(140, 120));
    EXPECT_EQ(node(id).up.typed, "12 cm");
    EXPECT_TRUE(paper().hasFocus()) << "the keyboard goes on with the node";
}

TEST_F(SectionDeskTest, ANumberThatCannotBeReadStaysToBeMended) {
    const std::string id = node_named("shelf edge");
    click(paper().on_paper(place(id)));
    QTest::keyClicks(&paper(), "1,234");
    auto& out = child<QLineEdit>("outNumber");
    QTest::keyClick(&out, Qt::Key_Return);
    EXPECT_TRUE(out.isVisible());
    EXPECT_FALSE(out.accessibleDescription().isEmpty()) << "why";
    EXPECT_TRUE(open_.job() == evaluation_->job);
    QTest::keyClick(&out, Qt::Key_Escape);
    EXPECT_FALSE(out.isVisible());
}

TEST_F(SectionDeskTest, ANumberTypedWhileDraggingFixesThatNumber) {
    const std::string id = node_named("shelf edge");
    const Vector2d from = place(id);
    press(paper().on_paper(from));
    move(paper().on_paper(from + Vector2d(4, 4)));
    QTest::keyClicks(&paper(), "141.5");
    QTest::keyClick(&child<QLineEdit>("outNumber"), Qt::Key_Return);
    EXPECT_TRUE(open_.dragging());
    move(paper().on_paper(from + Vector2d(12, -6)));
    EXPECT_DOUBLE_EQ(place(id).x(), 141.5) << "the other number follows the hand alone";
    EXPECT_NEAR(place(id).y(), std::round(from.y() - 6), 1e-9);
    release(paper().on_paper(from + Vector2d(12, -6)));
    EXPECT_EQ(node(id).out.typed, "141.5");
    EXPECT_EQ(open_.history().count(), 1);
    open_.history().undo();
    EXPECT_TRUE(open_.job() == evaluation_->job);
}

TEST_F(SectionDeskTest, APressOnARulerWritesItsNumber) {
    const std::string id = node_named("bead");
    click(paper().on_paper(place(id)));
    click(QPointF(20, paper().height() / 2.0));
    EXPECT_TRUE(child<QLineEdit>("upNumber").isVisible());
    click(QPointF(300, paper().height() - 10.0));
    EXPECT_FALSE(child<QLineEdit>("upNumber").isVisible());
    EXPECT_TRUE(child<QLineEdit>("outNumber").isVisible());
    click(QPointF(paper().width() - 20.0, paper().height() - 10.0));
    auto& radius = child<QLineEdit>("radiusNumber");
    ASSERT_TRUE(radius.isVisible());
    radius.selectAll();
    QTest::keyClicks(&radius, "6");
    QTest::keyClick(&radius, Qt::Key_Return);
    EXPECT_EQ(in_mm(node(id).radius.value), 6.0);
}

TEST_F(SectionDeskTest, ArrowKeysMoveTheChosenNode) {
    const std::string id = node_named("bead");
    const Vector2d from = place(id);
    click(paper().on_paper(from));
    QTest::keyClick(&paper(), Qt::Key_Right);
    QTest::keyClick(&paper(), Qt::Key_Down, Qt::ShiftModifier);
    EXPECT_LT((place(id) - from - Vector2d(1.0, -0.1)).norm(), 1e-9);
    EXPECT_EQ(open_.history().count(), 2);
}

TEST_F(SectionDeskTest, TabGoesThroughTheNodes) {
    paper().setFocus();
    QTest::keyClick(&paper(), Qt::Key_Tab);
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::node, node_named("top return end")}));
    QTest::keyClick(&paper(), Qt::Key_Tab);
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::node, node_named("shelf inner")}));
    QTest::keyClick(&paper(), Qt::Key_Tab, Qt::ShiftModifier);
    EXPECT_EQ(focus_.chosen(), (Item{Item::Kind::node, node_named("top return end")}));
}

TEST_F(SectionDeskTest, DeleteTakesANameAwayAndUndoBringsItBack) {
    click(paper().on_paper(place(node_named("bead"))));
    QTest::keyClick(&paper(), Qt::Key_Delete);
    EXPECT_EQ(node_named("bead"), "");
    EXPECT_FALSE(focus_.chosen());
    open_.history().undo();
    EXPECT_TRUE(open_.job() == evaluation_->job);
}

TEST_F(SectionDeskTest, DraggingTheHandleRoundsACorner) {
    const std::string id = node_named("bead");
    click(paper().on_paper(place(id)));
    const auto shown = std::find_if(paper().picture().nodes.begin(), paper().picture().nodes.end(),
                                    [&](const SectionNode& one) { return one.id == id; });
    const SectionScale scale{paper().pixels_per_mm(), paper().on_paper({0, 0})};
    const QPointF from = radius_handle(*shown, shown->radius_mm, scale).value();
    const QPointF to = radius_handle(*shown, shown->radius_mm + 2.0, scale).value();
    press(from);
    move(to);
    release(to);
    EXPECT_NEAR(in_mm(node(id).radius.value), std::round(shown->radius_mm + 2.0), 1e-6);
    EXPECT_EQ(open_.history().count(), 1);
}

TEST_F(SectionDeskTest, AnAddedNodeLiesOnTheLineAndIsChosen) {
    QTest::mouseClick(&child<QPushButton>("addNodeHand"), Qt::LeftButton);
    const Vector2d knee = place(node_named("knee"));
    const Vector2d bead = place(node_named("bead"));
    click(paper().on_paper(0.5 * (knee + bead) + Vector2d(1, 0)));
    ASSERT_EQ(focus_.chosen().kind, Item::Kind::node);
    const Vector2d added = place(focus_.chosen().id);
    // On the straight between the two: the cross product vanishes.
    const Vector2d run = (bead - knee).normalized();
    EXPECT_NEAR((added - knee).x() * run.y() - (added - knee).y() * run.x(), 0.0, 1e-9);
    const auto where = core::find_node(open_.job(), focus_.chosen().id);
    for (const core::Section& section : core::drawn(open_.job(), where->drawn).sections) {
        EXPECT_EQ(section.nodes.size(), 9U) << section.station << ": eight nodes and the new one";
    }
    EXPECT_EQ(open_.history().count(), 1);
}

TEST_F(SectionDeskTest, BetweenStationsNodesAreNotAdded) {
    focus_.go_to(millimetres(900));
    QTest::mouseClick(&child<QPushButton>("addNodeHand"), Qt::LeftButton);
    click(paper().on_paper({153, 60}));
    EXPECT_EQ(open_.history().count(), 0);
}

TEST_F(SectionDeskTest, PlacedFarFromTheBodyNoMountIsMade) {
    QTest::mouseClick(&child<QPushButton>("placeMountHand"), Qt::LeftButton);
    click(QPointF(paper().width() - 60.0, 120.0));
    EXPECT_TRUE(open_.job() == evaluation_->job);
}

TEST_F(SectionDeskTest, TheTagOfAPlacedMountLetsGoOfWholeMillimetres) {
    QTest::mouseClick(&child<QPushButton>("placeMountHand"), Qt::LeftButton);
    const QPointF at = paper().on_paper({46.3, 16.6});
    click(at);
    auto& tag = child<QPushButton>("snapTag");
    ASSERT_TRUE(tag.isVisible());
    mouse(QEvent::MouseMove, at + QPointF(12, 12), Qt::NoButton, Qt::NoButton);  // on the way to it
    QTest::mouseClick(&tag, Qt::LeftButton);
    ASSERT_EQ(open_.job().mounts.size(), evaluation_->job.mounts.size() + 1);
    EXPECT_EQ(open_.history().count(), 1);
    const core::Mount& mount = open_.job().mounts.back();
    const Vector2d placed(in_mm(mount.at.out.value), in_mm(mount.at.up.value));
    const auto line = evaluation_->car.body->section_at(millimetres(850));
    EXPECT_LT(in_mm(geometry::nearest_point(line.value(), placed).distance), 0.05);
    // The foot of (46.3, 16.6) on a line that runs nearly level.
    EXPECT_NEAR(placed.x(), 46.3, 0.05);
}

TEST_F(SectionDeskTest, ASectionIsDrawnPressByPress) {
    core::Job job;
    job.vehicle = "Van C, invented";
    job.stations = {{"1", {millimetres(0), ""}, {}}, {"2", {millimetres(300), ""}, {}}};
    if (!core::append_node(job, core::DrawnId{}, "1", {0, 0})) {
        GTEST_SKIP() << "a job takes no section of one node";
    }
    open_.open(job, {});
    focus_.go_to(millimetres(0));
    QTest::mouseClick(&child<QPushButton>("drawSectionHand"), Qt::LeftButton);
    auto& body = child<QComboBox>("drawnBody");
    ASSERT_TRUE(body.isVisible());
    EXPECT_EQ(body.currentText(), "the body");
    for (const Vector2d& p_mm : {Vector2d(-30, 60), Vector2d(20, 60), Vector2d(20, 0)}) {
        click(paper().on_paper(p_mm));
    }
    ASSERT_EQ(open_.job().body.sections.size(), 1U);
    EXPECT_EQ(open_.job().body.sections[0].nodes.size(), 3U);
    EXPECT_EQ(open_.history().count(), 3);
    // It has no shape yet, and is drawn all the same.
    EXPECT_FALSE(paper().picture().under->lines.empty());
    click(paper().on_paper({20, 0}));
    EXPECT_EQ(paper().hand(), Hand::move) << "a second press on the last node ends it";
    EXPECT_EQ(open_.history().count(), 3);
}

TEST_F(SectionDeskTest, AnOpenDoorIsDrawnWhereItsHingeCarriesIt) {
    focus_.turn_door("front door", geometry::degrees(6.2));
    const auto doors = [&](const SectionPicture& picture, SectionRole role) {
        std::vector<std::string> names;
        for (const SectionLine& line : picture.lines) {
            if (line.role == role) {
                names.push_back(line.name);
            }
        }
        return names;
    };
    EXPECT_EQ(doors(paper().picture(), SectionRole::door), std::vector<std::string>{"front door at 6.2°"});
    EXPECT_EQ(doors(*paper().picture().under, SectionRole::door_shut).size(), 1U);
    EXPECT_TRUE(doors(*paper().picture().under, SectionRole::door).empty());
}

TEST_F(SectionDeskTest, TheMenuOfAPlaceBetweenStationsAddsOneThere) {
    focus_.go_to(millimetres(900));
    QContextMenuEvent event(QContextMenuEvent::Mouse, {300, 100}, paper().mapToGlobal(QPoint(300, 100)));
    QCoreApplication::sendEvent(&paper(), &event);
    auto& menu = child<QMenu>("sectionMenu");
    auto* add = menu.findChild<QAction*>("addStation");
    ASSERT_NE(add, nullptr);
    add->trigger();
    menu.close();
    QCoreApplication::processEvents();
    EXPECT_EQ(open_.job().stations.size(), evaluation_->job.stations.size() + 1);
    EXPECT_FALSE(paper().picture().nodes.empty()) << "its nodes can be taken hold of";
}

TEST_F(SectionDeskTest, EveryHandIsLargeAndHasAName) {
    for (QPushButton* button : desk_.findChildren<QPushButton*>()) {
        EXPECT_FALSE(button->objectName().isEmpty());
        if (button->isVisible()) {
            EXPECT_GE(button->height(), 40) << button->objectName().toStdString();
            EXPECT_FALSE(button->accessibleName().isEmpty()) << button->objectName().toStdString();
        }
    }
}

TEST_F(SectionDeskTest, WithoutAPlaceItSaysWhatToDo) {
    focus_.go_to(std::nullopt);
    EXPECT_FALSE(paper().sentence().isEmpty());
    click({300, 300});
    EXPECT_TRUE(open_.job() == evaluation_->job);
}

TEST_F(SectionDeskTest, WheelAndFit) {
    const double fitted = paper().pixels_per_mm();
    const QPointF at(500, 300);
    const Vector2d under = paper().from_paper(at);
    QWheelEvent wheel(at, paper().mapToGlobal(at), {}, {0, 120}, Qt::NoButton, Qt::NoModifier, Qt::NoScrollPhase,
                      false);
    QCoreApplication::sendEvent(&paper(), &wheel);
    EXPECT_GT(paper().pixels_per_mm(), fitted);
    EXPECT_LT((paper().from_paper(at) - under).norm(), 1e-9) << "what is under the pointer stays there";
    QTest::mouseClick(&child<QPushButton>("fitSection"), Qt::LeftButton);
    EXPECT_DOUBLE_EQ(paper().pixels_per_mm(), fitted);
}

TEST_F(SectionDeskTest, DraggingEmptyPaperMovesIt) {
    const QPointF origin = paper().on_paper({0, 0});
    press({120, 120});
    move({160, 150});
    release({160, 150});
    EXPECT_EQ(paper().on_paper({0, 0}), origin + QPointF(40, 30));
    EXPECT_TRUE(open_.job() == evaluation_->job);
}

TEST_F(SectionDeskTest, APhotoIsSeenUnderTheLinesUntilItIsTakenAway) {
    const QImage without = paper().grab().toImage();
    QPixmap photo(200, 100);
    photo.fill(Qt::red);
    paper().lay_photo(photo);
    paper().set_photo_opacity(1.0);
    const QImage with = paper().grab().toImage();
    int red = 0;
    for (int y = 0; y < with.height(); ++y) {
        for (int x = 0; x < with.width(); ++x) {
            red += with.pixelColor(x, y) == QColor(Qt::red) ? 1 : 0;
        }
    }
    EXPECT_GT(red, 5000) << "of 20 000, but for what is drawn over it";
    EXPECT_LT(red, 20000);
    paper().lay_photo({});
    EXPECT_FALSE(paper().photo());
    EXPECT_EQ(paper().grab().toImage(), without);
    EXPECT_TRUE(open_.job() == evaluation_->job);
}

}  // namespace
}  // namespace sillwright::app
