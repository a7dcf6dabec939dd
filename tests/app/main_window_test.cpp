#include "app/window/main_window.h"

#include <gtest/gtest.h>

#include <QAction>
#include <QLabel>
#include <QLineEdit>
#include <QListView>
#include <QMessageBox>
#include <QPushButton>
#include <QSlider>
#include <QTimer>
#include <algorithm>

#include "app/drawings/section_drawing.h"
#include "app/drawings/solid_view.h"
#include "tests/app/invented_job.h"

namespace sillwright::app {
namespace {

using geometry::in_deg;

class Window : public testing::Test {
protected:
    Window() { window_.show_job(invented_job()); }

    QString text(const QString& name) { return window_.findChild<QLabel*>(name)->text(); }
    SectionDrawing* drawing() { return window_.findChild<SectionDrawing*>("sectionDrawing"); }
    void click(const QString& name) { window_.findChild<QPushButton*>(name)->click(); }
    bool enabled(const QString& name) { return window_.findChild<QPushButton*>(name)->isEnabled(); }

    MainWindow window_{CoreLink{}};
};

TEST_F(Window, SaysWhichCarAndWhichSide) {
    EXPECT_EQ(text("vehicle"), "Estate A · revision C");
    EXPECT_EQ(text("side"), "RIGHT SIDE");
    CheckedJob left = invented_job();
    left.job.side = core::Side::left;
    window_.show_job(left);
    EXPECT_EQ(text("side"), "LEFT SIDE");
    EXPECT_TRUE(window_.windowTitle().contains("LEFT SIDE"));
}

TEST_F(Window, OpensAtTheWorstFindingAndGoesToTheOneChosen) {
    // Stations at 100, 350, 700.5: 500 mm is 150/350.5 of the way from the second.
    CheckedJob job = invented_job();
    std::sort(job.job.stations.begin(), job.job.stations.end(),
              [](const auto& a, const auto& b) { return a.along.value < b.along.value; });
    job.findings[2].place.along = geometry::millimetres(500);
    job.findings[3].place.along = geometry::millimetres(100);
    job.findings[0].place.along.reset();
    window_.show_job(job);
    EXPECT_EQ(text("station"), "2.4 · 500 mm");
    EXPECT_EQ(drawing()->picture().title, "section at 500 mm");
    auto* list = window_.findChild<QListView*>("findings");
    emit list->clicked(list->model()->index(1, 0));
    EXPECT_EQ(text("station"), "1 · 100 mm");
    emit list->clicked(list->model()->index(3, 0));
    EXPECT_EQ(text("station"), "1 · 100 mm") << "a finding without a place leaves the section where it is";
}

TEST_F(Window, StepsAlongTheStationsInTheirOrder) {
    CheckedJob job = invented_job();
    for (core::Finding& finding : job.findings) {
        finding.place.along.reset();
    }
    window_.show_job(job);
    EXPECT_EQ(text("station"), "2 · 350 mm");
    click("stationBeyond");
    EXPECT_EQ(text("station"), "3 · 700.5 mm");
    EXPECT_EQ(drawing()->picture().title, "section at 700 mm");
    EXPECT_FALSE(enabled("stationBeyond"));
    click("stationBefore");
    click("stationBefore");
    EXPECT_EQ(text("station"), "1 · 100 mm");
    EXPECT_FALSE(enabled("stationBefore"));
    window_.step_station(-1);
    EXPECT_EQ(text("station"), "1 · 100 mm");
}

TEST_F(Window, ShowsFindingsWorstFirst) {
    const auto* list = window_.findChild<QListView*>("findings");
    ASSERT_EQ(list->model()->rowCount(), 4);
    EXPECT_EQ(list->model()->index(0, 0).data().toString(),
              "falls short: Front door moving, to skirt, found 1.90 mm, needs at least 4.00 mm, at 3.9 · 700 mm, door "
              "at 6.2°, margin −2.10 mm");
    EXPECT_EQ(list->model()->index(3, 0).data().toString(), "not measured: Rear door moving, to skirt");
    EXPECT_TRUE(text("findingCount").startsWith("4 findings: 1 falls short"));
}

TEST_F(Window, TheSliderTurnsTheDoorAsFarAsItOpens) {
    auto* slider = window_.findChild<QSlider*>("doorSlider");
    slider->setValue(123);
    EXPECT_EQ(window_.findChild<QLineEdit*>("doorAngle")->text(), "12.3°");
    const auto* solid = window_.findChild<SolidView*>("solidView");
    EXPECT_DOUBLE_EQ(in_deg(solid->opening(0)), 12.3);
    slider->setValue(100000);
    EXPECT_EQ(window_.findChild<QLineEdit*>("doorAngle")->text(), "68.0°");
}

TEST_F(Window, WithoutX11ASentenceStandsForTheSolid) {
    // This test's platform is "offscreen".
    EXPECT_TRUE(text("noSolidPicture").contains("X11"));
    EXPECT_EQ(window_.findChild<QWidget*>("solidCanvas"), nullptr);
}

TEST_F(Window, AJobWithoutStationsOrDoorsIsShownAllTheSame) {
    CheckedJob bare = invented_job();
    bare.job.stations.clear();
    bare.findings.clear();
    bare.solids = [] { return SolidScene{}; };
    window_.show_job(bare);
    EXPECT_TRUE(drawing()->sentence().contains("No station"));
    EXPECT_FALSE(enabled("stationBefore"));
    EXPECT_FALSE(enabled("stationBeyond"));
    EXPECT_TRUE(window_.findChild<QSlider*>("doorSlider")->isHidden());
}

TEST_F(Window, SolidsThatCannotBeMadeSayWhy) {
    CheckedJob job = invented_job();
    job.solids = []() -> geometry::Result<SolidScene> {
        return geometry::Error{geometry::ErrorCode::does_not_fit, "The sheet does not fit."};
    };
    window_.show_job(job);
    EXPECT_EQ(text("noSolidPicture"), "The sheet does not fit.");
    window_.show_job(invented_job());
    EXPECT_TRUE(text("noSolidPicture").contains("X11"));
}

TEST_F(Window, ASectionThatCannotBeMadeSaysWhy) {
    CheckedJob job = invented_job();
    job.section_at = [](geometry::Length) -> geometry::Result<SectionPicture> {
        return geometry::Error{geometry::ErrorCode::does_not_fit, "The roundings do not fit."};
    };
    window_.show_job(job);
    EXPECT_EQ(drawing()->sentence(), "The roundings do not fit.");
}

TEST(OpenJob, AFailureIsSaidAndTheOldJobGoes) {
    CoreLink core;
    core.check = [](const std::filesystem::path&) -> geometry::Result<CheckedJob> {
        return geometry::Error{geometry::ErrorCode::unreadable_file, "There is no such file."};
    };
    MainWindow window(core);
    window.show_job(invented_job());
    EXPECT_FALSE(window.open_job("x.sillwright").has_value());
    EXPECT_EQ(window.findChild<SectionDrawing*>("sectionDrawing")->sentence(), "There is no such file.");
    EXPECT_EQ(window.findChild<QListView*>("findings")->model()->rowCount(), 0);
    EXPECT_EQ(window.findChild<QLabel*>("side")->text(), "");
}

TEST(OpenJob, ASuccessIsShown) {
    CoreLink core;
    core.check = [](const std::filesystem::path& file) -> geometry::Result<CheckedJob> {
        CheckedJob job = invented_job();
        job.file = file;
        return job;
    };
    MainWindow window(core);
    EXPECT_TRUE(window.open_job("x.sillwright").has_value());
    EXPECT_EQ(window.findChild<QLabel*>("vehicle")->text(), "Estate A · revision C");
}

TEST(Menu, AboutCarriesTheCautions) {
    MainWindow window(CoreLink{});
    QString text;
    QTimer::singleShot(0, &window, [&] {
        auto* box = window.findChild<QMessageBox*>("aboutBox");
        ASSERT_NE(box, nullptr);
        text = box->text();
        box->close();
    });
    window.findChild<QAction*>("about")->trigger();
    for (const char* part : {"lifted vehicle", "high-voltage", "airbag", "fuel and brake lines", "Road-approval"}) {
        EXPECT_TRUE(text.contains(part)) << part;
    }
}

}  // namespace
}  // namespace sillwright::app
