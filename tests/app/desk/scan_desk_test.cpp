#include "app/desk/scan_desk.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QDir>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QPushButton>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>

#include "app/desk/focus.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/desk/section_desk.h"
#include "app/desk/underlays.h"
#include "app/drawings/scan_drawing.h"
#include "core/typed.h"
#include "geometry/mesh_file.h"
#include "tests/core/survey/scan_world.h"

namespace sillwright::app {
namespace {

using Eigen::Vector3d;

/// Estate A with three of its marks held in the book, and the scan of its body as a file.
class ScanDeskTest : public testing::Test {
protected:
    ScanDeskTest() {
        QDir(folder_.path()).mkdir("job");
        EXPECT_TRUE(geometry::write_mesh(world_.scan, folder_.filePath("sill.ply").toStdString(),
                                         geometry::MeshFormat::ply_binary, geometry::FileUnit::millimetre));
        core::survey::Scan scan;
        const auto solution = tests::marked(world_, scan, 3);
        core::Job job = world_.job;
        for (const auto& placed : solution.points) {
            core::survey::Point& point = job.book.points.emplace_back();
            point.name = placed.name;
            point.along = core::entry(geometry::millimetres(placed.at_mm.x()));
            point.out = core::entry(geometry::millimetres(placed.at_mm.y()));
            point.up = core::entry(geometry::millimetres(placed.at_mm.z()));
        }
        marks_ = scan.marks;
        open_.open(job, folder_.filePath("job/a.sillwright").toStdString());
        open_.stop_computing();
        desk_.resize(900, 700);
        desk_.show();
    }
    void settle() {
        QTRY_VERIFY_WITH_TIMEOUT(book_.current(), 20000);
        QTRY_VERIFY_WITH_TIMEOUT(!underlays_.computing(), 20000);
    }
    void add() {
        desk_.add(folder_.filePath("sill.ply"));
        settle();
    }
    void mark(const core::survey::ScanMark& mark) {
        auto* point = desk_.findChild<QComboBox*>("scanBookPoint");
        point->setCurrentText(QString::fromStdString(mark.point));
        desk_.findChild<QLineEdit*>("scanMarkx")->setText(QString::number(mark.x, 'f', 4));
        desk_.findChild<QLineEdit*>("scanMarky")->setText(QString::number(mark.y, 'f', 4));
        desk_.findChild<QLineEdit*>("scanMarkz")->setText(QString::number(mark.z, 'f', 4));
        QTest::mouseClick(desk_.findChild<QPushButton*>("setScanMark"), Qt::LeftButton);
    }
    QString words() { return desk_.findChild<QLabel*>("scanWords")->text(); }

    QTemporaryDir folder_;
    tests::ScanWorld world_ = tests::scan_world(0.03);
    std::vector<core::survey::ScanMark> marks_;
    OpenJob open_;
    OpenBook book_{open_};
    Underlays underlays_{book_};
    Focus focus_;
    ScanDesk desk_{underlays_};
};

TEST_F(ScanDeskTest, IsPlacedByThreeMarksThenDrawsASection) {
    SectionDesk section(open_, focus_);
    section.resize(1000, 700);
    section.show();
    section.use(underlays_);
    add();
    EXPECT_TRUE(words().contains("there are 0")) << words().toStdString();
    EXPECT_FALSE(desk_.findChild<QPushButton*>("drawFromScan")->isEnabled());
    for (const auto& one : marks_) {
        mark(one);
    }
    settle();
    ASSERT_EQ(open_.job().scans[0].marks.size(), 3U);
    EXPECT_TRUE(words().startsWith("Placed by 3 marks")) << words().toStdString();
    EXPECT_TRUE(desk_.findChild<QPushButton*>("drawFromScan")->isEnabled());

    focus_.go_to(world_.job.stations[4].along.value);
    auto* draw = section.findChild<QPushButton*>("drawSectionFromScan");
    ASSERT_TRUE(draw->isVisible());
    // Drawn already: it asks, and leaves it if told so.
    const auto answer = [](bool replace) {
        QTimer::singleShot(0, [replace] {
            auto* ask = qobject_cast<QMessageBox*>(QApplication::activeModalWidget());
            ASSERT_NE(ask, nullptr);
            for (QAbstractButton* button : ask->buttons()) {
                if ((button->objectName() == "replaceDrawn") == replace) {
                    button->click();
                    return;
                }
            }
        });
    };
    const auto before = open_.job().body;
    answer(false);
    draw->click();
    EXPECT_EQ(open_.job().body, before);
    answer(true);
    draw->click();
    EXPECT_NE(open_.job().body, before);
    EXPECT_TRUE(open_.history().undoText().startsWith("draw station 5 from the scan, within 0."))
        << open_.history().undoText().toStdString();
    open_.history().undo();
    EXPECT_EQ(open_.job().body, before);
}

TEST_F(ScanDeskTest, APressPicksTheNearestCorner) {
    add();
    auto& drawing = desk_.drawing();
    const Vector3d corner = world_.scan.points[5000];
    QTest::mouseClick(&drawing, Qt::LeftButton, {}, drawing.on_paper(corner).toPoint());
    const Vector3d picked(desk_.findChild<QLineEdit*>("scanMarkx")->text().toDouble(),
                          desk_.findChild<QLineEdit*>("scanMarky")->text().toDouble(),
                          desk_.findChild<QLineEdit*>("scanMarkz")->text().toDouble());
    EXPECT_LT((drawing.on_paper(picked) - drawing.on_paper(corner)).manhattanLength(), 12.0);
}

TEST_F(ScanDeskTest, SaysWhatIsWrong) {
    const QSignalSpy refused(&open_, &OpenJob::refused);
    add();
    desk_.findChild<QLineEdit*>("scanMarkx")->setText("twelve");
    QTest::mouseClick(desk_.findChild<QPushButton*>("setScanMark"), Qt::LeftButton);
    ASSERT_EQ(refused.count(), 1);
    EXPECT_TRUE(refused[0][0].toString().contains("\"twelve\" is not a number"));
    for (const auto& one : marks_) {
        mark(one);
    }
    auto* unit = desk_.findChild<QComboBox*>("scanUnit");
    unit->setCurrentIndex(1);
    emit unit->activated(1);
    settle();
    EXPECT_TRUE(words().contains("10.0 times too large: its numbers look like millimetres")) << words().toStdString();
    QFile bad(folder_.filePath("bad.stl"));
    ASSERT_TRUE(bad.open(QIODevice::WriteOnly));
    bad.write("nothing");
    bad.close();
    desk_.add(folder_.filePath("bad.stl"));
    EXPECT_EQ(refused.count(), 2);
    EXPECT_EQ(open_.job().scans.size(), 1U);
}

}  // namespace
}  // namespace sillwright::app
