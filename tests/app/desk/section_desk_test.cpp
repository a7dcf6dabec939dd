#include "app/desk/section_desk.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QLineEdit>
#include <QMenu>
#include <QPushButton>
#include <QtTest>
#include <algorithm>

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

}  // namespace
}  // namespace sillwright::app
