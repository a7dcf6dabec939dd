#include "app/desk/photo_desk.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QDir>
#include <QLabel>
#include <QLineEdit>
#include <QPainter>
#include <QPushButton>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

#include "app/desk/focus.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/desk/section_desk.h"
#include "app/desk/underlays.h"
#include "app/drawings/photo_drawing.h"
#include "core/job_file.h"
#include "core/typed.h"

namespace sillwright::app {
namespace {

using Eigen::Vector2d;

/// A job beside which a photo is put: 5 px/mm square on, a plate of 120 x 150 mm from (100, 900) px.
class PhotoDeskTest : public testing::Test {
protected:
    PhotoDeskTest() {
        core::Job job;
        job.stations.push_back({"1", core::entry(geometry::millimetres(0.0)), {}});
        job.stations.push_back({"2", core::entry(geometry::millimetres(400.0)), {}});
        open_.open(job, file());
        desk_.resize(900, 760);
        desk_.show();
        QImage photo(1000, 1000, QImage::Format_RGB32);
        photo.fill(QColor(200, 190, 170));
        QPainter painter(&photo);
        painter.fillRect(QRect(100, 150, 600, 750), QColor(90, 100, 110));
        painter.end();
        photo.save(folder_.filePath("from camera.png"));
        job_ = QDir(folder_.path()).filePath("job");
    }
    [[nodiscard]] std::filesystem::path file() {
        QDir(folder_.path()).mkdir("job");
        return folder_.filePath("job/a.sillwright").toStdString();
    }
    void settle() { QTRY_VERIFY_WITH_TIMEOUT(!underlays_.computing(), 10000); }
    void add() {
        desk_.add(folder_.filePath("from camera.png"));
        settle();
    }
    void press(const Vector2d& px) {
        QTest::mouseClick(&desk_.drawing(), Qt::LeftButton, {}, desk_.drawing().on_paper(px).toPoint());
    }
    void type(const char* name, const char* text) {
        auto* field = desk_.findChild<QLineEdit*>(name);
        field->setFocus();
        field->setText(text);
        emit field->editingFinished();
    }
    void four() {
        add();
        const std::array<std::array<const char*, 2>, 4> places{
            {{"0", "0"}, {"120", "0"}, {"120", "150"}, {"0", "150"}}};
        const std::array<Vector2d, 4> px{Vector2d(100, 900), {700, 900}, {700, 150}, {100, 150}};
        for (std::size_t i = 0; i < 4; ++i) {
            press(px.at(i));
            type("photoAcross", places.at(i)[0]);
            type("photoUp", places.at(i)[1]);
        }
        settle();
    }
    QString words() { return desk_.findChild<QLabel*>("photoWords")->text(); }

    QTemporaryDir folder_;
    QString job_;
    OpenJob open_;
    OpenBook book_{open_};
    Underlays underlays_{book_};
    Focus focus_;
    PhotoDesk desk_{underlays_};
};

TEST_F(PhotoDeskTest, PutsThePhotoBesideTheJobThenAsksForFourPoints) {
    add();
    ASSERT_EQ(open_.job().photos.size(), 1U);
    EXPECT_EQ(open_.job().photos[0].path, "from camera.png");
    EXPECT_EQ(open_.job().photos[0].checksum.size(), 64U);
    EXPECT_TRUE(QFile::exists(job_ + "/from camera.png"));
    EXPECT_TRUE(words().contains("there are 0")) << words().toStdString();
}

TEST_F(PhotoDeskTest, FourPressesWithTypedPlacesStraightenIt) {
    four();
    const auto& points = open_.job().photos[0].points;
    ASSERT_EQ(points.size(), 4U);
    EXPECT_NEAR(points[0].right_px, 100.0, 2.0) << "as near as a pixel of the paper";
    EXPECT_EQ(core::entry_text(*points[2].up, core::BareUnit::mm), "150");
    ASSERT_TRUE(underlays_.laid().photos[0]->straight) << words().toStdString();
    EXPECT_TRUE(words().contains("a fifth would check them")) << words().toStdString();
    ASSERT_EQ(underlays_.of_section("1").size(), 1U);
    EXPECT_TRUE(underlays_.of_section("2").empty());
    EXPECT_TRUE(underlays_.of_side().empty());
    // Where the pointer is, and how sure that is.
    emit desk_.drawing().pointed({400, 525});
    EXPECT_TRUE(desk_.drawing().said().startsWith("out 60.")) << desk_.drawing().said().toStdString();
    emit desk_.drawing().pointed({1000, 5});
    EXPECT_TRUE(desk_.drawing().said().contains("sd"));
}

TEST_F(PhotoDeskTest, LiesUnderTheSectionOfItsStationInTrueScale) {
    SectionDesk section(open_, focus_);
    section.resize(900, 700);
    section.use(underlays_);
    four();
    focus_.go_to(geometry::millimetres(0.0));
    // The plate's grey at (60, 75), the bench's beside it at (-10, 75): half of each on the paper.
    const QImage seen = section.drawing().grab().toImage();
    const auto at = [&](double out, double up) {
        return seen.pixelColor(section.drawing().on_paper({out, up}).toPoint());
    };
    EXPECT_LT(at(60, 75).red(), at(-10, 75).red()) << "the plate is darker";
    EXPECT_LT(at(119, 75).red(), at(123, 75).red()) << "its edge is at 120";
    focus_.go_to(geometry::millimetres(400.0));
    const QImage other = section.drawing().grab().toImage();
    EXPECT_GT(other.pixelColor(section.drawing().on_paper({60, 75}).toPoint()).red(), 220) << "bare paper";
}

TEST_F(PhotoDeskTest, UndoTakesBackAPointAndOpeningAgainKeepsThem) {
    four();
    const auto saved = core::save_job(open_.job(), file());
    ASSERT_TRUE(saved);
    const auto photos = open_.job().photos;
    const auto again = core::read_job(file());
    ASSERT_TRUE(again) << again.error().message;
    open_.open(again.value(), file());
    settle();
    EXPECT_EQ(open_.job().photos, photos);
    EXPECT_TRUE(underlays_.laid().photos[0]->straight);
    press({400, 525});
    EXPECT_EQ(open_.job().photos[0].points.size(), 5U);
    open_.history().undo();
    EXPECT_EQ(open_.job().photos, photos);
}

TEST_F(PhotoDeskTest, MovesTheChosenPointByKeysAndDeletesIt) {
    four();
    press({100, 900});
    const double before = open_.job().photos[0].points[0].right_px;
    QTest::keyClick(&desk_.drawing(), Qt::Key_Right);
    EXPECT_NEAR(open_.job().photos[0].points[0].right_px, before + 1.0, 1e-9);
    QTest::mouseClick(desk_.findChild<QPushButton*>("deletePhotoPoint"), Qt::LeftButton);
    settle();
    EXPECT_EQ(open_.job().photos[0].points.size(), 3U);
    EXPECT_TRUE(words().contains("there are 3"));
    QTest::mouseClick(desk_.findChild<QPushButton*>("deletePhoto"), Qt::LeftButton);
    EXPECT_TRUE(open_.job().photos.empty());
    settle();
}

TEST_F(PhotoDeskTest, RefusesWhatIsNoPicture) {
    QFile bad(folder_.filePath("bad.png"));
    ASSERT_TRUE(bad.open(QIODevice::WriteOnly));
    bad.write("not a picture");
    bad.close();
    const QSignalSpy refused(&open_, &OpenJob::refused);
    desk_.add(folder_.filePath("bad.png"));
    ASSERT_EQ(refused.count(), 1);
    EXPECT_TRUE(refused[0][0].toString().contains("cannot be read as a photo"));
    EXPECT_TRUE(open_.job().photos.empty());
    open_.open(core::Job{}, {});
    desk_.add(folder_.filePath("from camera.png"));
    ASSERT_EQ(refused.count(), 2);
    EXPECT_TRUE(refused[1][0].toString().contains("Save the job first"));
}

}  // namespace
}  // namespace sillwright::app
