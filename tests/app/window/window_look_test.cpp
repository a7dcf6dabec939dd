// The window as it is seen, solid picture and all: needs X11 (see tests/CMakeLists.txt). With SILLWRIGHT_PICTURES set
// to a folder, every stage is written there as a picture, to be looked at.
#include <gtest/gtest.h>

#include <QApplication>
#include <QImage>
#include <QLabel>
#include <QStandardPaths>
#include <QTemporaryDir>
#include <filesystem>

#include "app/core_link.h"
#include "app/drawings/solid_canvas.h"
#include "app/looks.h"
#include "app/window/look_settings.h"
#include "app/window/main_window.h"

namespace sillwright::app {
namespace {

struct Look {
    QSize size;
    looks::Tone tone;
};

void PrintTo(const Look& look, std::ostream* out) {
    *out << look.size.width() << "x" << look.size.height() << (look.tone == looks::Tone::dark ? " dark" : " light");
}

/// Light falls on it, so its colour is known by its hue.
int count_like(const QImage& image, const QColor& colour) {
    constexpr int k_near = 12, k_coloured = 60;
    int count = 0;
    for (int y = 0; y < image.height(); ++y) {
        for (int x = 0; x < image.width(); ++x) {
            const QColor there = image.pixelColor(x, y);
            const bool like = there.saturation() > k_coloured && std::abs(there.hue() - colour.hue()) < k_near;
            count += like ? 1 : 0;
        }
    }
    return count;
}

class WindowOnX11 : public testing::TestWithParam<Look> {
protected:
    void SetUp() override {
        if (qEnvironmentVariableIsEmpty("SILLWRIGHT_TEST_ON_X11")) {
            GTEST_SKIP() << "needs an X11 display of its own";
        }
        QStandardPaths::setTestModeEnabled(true);
    }

    static void keep(const QImage& picture, const QString& name) {
        if (const QString folder = qEnvironmentVariable("SILLWRIGHT_PICTURES"); !folder.isEmpty()) {
            EXPECT_TRUE(picture.save(folder + QStringLiteral("/") + name + QStringLiteral(".png")));
        }
    }
};

/// No line of text in sight is cut: a label is as high as its words need at its width, and as wide as its longest word.
void expect_no_cut_words(const QWidget& window, const QString& where) {
    for (const QLabel* label : window.findChildren<QLabel*>()) {
        if (!label->isVisible() || label->text().isEmpty() || !label->pixmap().isNull()) {
            continue;
        }
        const int needed = label->wordWrap() ? label->heightForWidth(label->width()) : label->sizeHint().height();
        EXPECT_LE(needed, label->height() + 1)
            << where.toStdString() << ": " << label->objectName().toStdString() << " \"" << label->text().toStdString();
        if (!label->wordWrap()) {
            EXPECT_LE(label->sizeHint().width(), label->width() + 1)
                << where.toStdString() << ": " << label->objectName().toStdString() << " \""
                << label->text().toStdString();
        }
    }
}

TEST_P(WindowOnX11, ShowsEveryStageWithoutCutWords) {
    const Look look = GetParam();
    const QTemporaryDir folder;
    const std::filesystem::path file = std::filesystem::path(folder.path().toStdString()) / "estate_a.sillwright";
    std::filesystem::copy_file(SILLWRIGHT_SOURCE_DIR "/samples/estate_a_cladding.sillwright", file);
    LookSettings settings;
    settings.tone = look.tone;
    keep_look_settings(settings);
    MainWindow window(core_link());
    window.resize(look.size);
    window.show();
    ASSERT_TRUE(window.open_file(file));
    for (const core::Stage stage : core::k_stages) {
        window.show_stage(stage);
        window.settle();
        const QString name = QStringLiteral("%1_%2_%3")
                                 .arg(QString::fromStdString(core::words(stage).key))
                                 .arg(look.size.width())
                                 .arg(look.tone == looks::Tone::dark ? "dark" : "light");
        EXPECT_EQ(window.size(), look.size) << "nothing in it asks for more room";
        const QImage picture = window.grab().toImage();
        keep(picture, name);
        expect_no_cut_words(window, name);
        if (auto* solid = window.findChild<SolidCanvas*>(); solid != nullptr && solid->isVisible()) {
            const QImage round = solid->grab().toImage();
            EXPECT_GT(count_like(round, looks::colours(look.tone).skirt), 300) << name.toStdString();
        }
    }
}

INSTANTIATE_TEST_SUITE_P(Sizes, WindowOnX11,
                         testing::Values(Look{{1366, 768}, looks::Tone::light}, Look{{1366, 768}, looks::Tone::dark},
                                         Look{{2560, 1440}, looks::Tone::light},
                                         Look{{2560, 1440}, looks::Tone::dark}));

}  // namespace
}  // namespace sillwright::app
