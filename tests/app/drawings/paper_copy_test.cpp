#include "app/drawings/paper_copy.h"

#include <gmock/gmock.h>

#include <QAction>
#include <QApplication>
#include <QClipboard>
#include <QFile>
#include <QMenu>
#include <QMessageBox>
#include <QMimeData>
#include <QPainterPath>
#include <QPdfWriter>
#include <QProcess>
#include <QSvgRenderer>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>
#include <cmath>

#include "app/drawings/paper.h"

namespace sillwright::app {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

/// A drawing with all that ours have: lines, an outline, dashes, text, a hatch cut off by a round clip, a picture.
class Sheet : public Paper {
public:
    void draw(QPainter& painter, const QSizeF& sheet) const override {
        painter.fillRect(QRectF(QPointF(), sheet), colours().paper);
        painter.setRenderHint(QPainter::Antialiasing);
        painter.setFont(looks::font(looks::k_text));
        painter.setPen(colours().graphite);
        painter.drawText(QPointF(20, 30), title());
        painter.setPen(QPen(colours().skirt, 3.0));
        painter.drawPolyline(QPolygonF({{20, 60}, {200, 70}, {220, 180}, {60, 190}}));
        painter.setPen(QPen(colours().door, 1.8, Qt::DashLine, Qt::FlatCap));
        painter.drawLine(QPointF(20, 220), QPointF(sheet.width() - 20, 210));
        painter.save();
        QPainterPath round;
        round.addEllipse(QPointF(320, 120), 70, 70);
        painter.setClipPath(round);
        painter.fillRect(QRectF(200, 130, 250, 120), colours().edge);
        painter.setPen(QPen(colours().graphite, 1.2));
        for (int x = 180; x < 460; x += 12) {
            painter.drawLine(QPointF(x, 30), QPointF(x + 60, 220));
        }
        painter.drawText(QPointF(230, 120), QStringLiteral("cut off at both ends by the ring"));
        painter.restore();
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(colours().graphite, 2.0));
        painter.drawEllipse(QPointF(320, 120), 70, 70);
        QImage image(40, 30, QImage::Format_RGB32);
        image.fill(colours().door);
        painter.drawImage(QRectF(420, 240, 80, 60), image);
    }
    [[nodiscard]] QString title() const override { return QStringLiteral("section at 3.9 · 700 mm"); }
};

/// Mean difference of a channel, 0 to 255, after both are brought to one size.
double difference(QImage a, QImage b) {
    a = a.convertToFormat(QImage::Format_RGB32);
    b = b.scaled(a.size(), Qt::IgnoreAspectRatio, Qt::SmoothTransformation).convertToFormat(QImage::Format_RGB32);
    double sum = 0.0;
    for (int y = 0; y < a.height(); ++y) {
        for (int x = 0; x < a.width(); ++x) {
            const QRgb p = a.pixel(x, y), q = b.pixel(x, y);
            sum += std::abs(qRed(p) - qRed(q)) + std::abs(qGreen(p) - qGreen(q)) + std::abs(qBlue(p) - qBlue(q));
        }
    }
    return sum / (3.0 * a.width() * a.height());
}

/// Two renderers draw the edges of lines and letters differently: a few pixels in a hundred, by half a
/// channel. A line that is missing or a clip that is not kept is several times as much.
constexpr double k_same = 2.0;

class Copies : public testing::Test {
protected:
    Copies() {
        sheet_.resize(520, 320);
        grab_ = QImage(sheet_.size(), QImage::Format_RGB32);
        sheet_.render(&grab_);
    }

    [[nodiscard]] fs::path file(const std::string& name) const { return fs::path(dir_.path().toStdString()) / name; }
    static QByteArray run(const QString& program, const QStringList& words) {
        QProcess process;
        process.start(program, words);
        EXPECT_TRUE(process.waitForFinished(30000)) << program.toStdString();
        EXPECT_EQ(process.exitCode(), 0) << process.readAllStandardError().toStdString();
        return process.readAllStandardOutput();
    }
    static QByteArray bytes(const fs::path& path) {
        QFile in(QFile::decodeName(path.c_str()));
        EXPECT_TRUE(in.open(QIODevice::ReadOnly));
        return in.readAll();
    }
    static QImage rendered(const QByteArray& svg, const QSize& size) {
        QSvgRenderer renderer(svg);
        EXPECT_TRUE(renderer.isValid());
        QImage image(size, QImage::Format_RGB32);
        image.fill(Qt::white);
        QPainter painter(&image);
        painter.setRenderHint(QPainter::Antialiasing);
        renderer.render(&painter);
        return image;
    }
    QImage pdf_page(const fs::path& pdf) {
        const QString out = QString::fromStdString(file("page").string());
        run("pdftoppm", {"-png", "-r", "96", "-singlefile", QString::fromStdString(pdf.string()), out});
        return QImage(out + ".png");
    }

    QTemporaryDir dir_;
    Sheet sheet_;
    QImage grab_;
};

TEST_F(Copies, TheMeasureOfSamenessTellsAClipThatWasLost) {
    EXPECT_EQ(difference(grab_, grab_), 0.0);
    QImage spoilt = grab_;
    QPainter painter(&spoilt);
    for (int x = 180; x < 460; x += 12) {
        painter.drawLine(x, 30, x + 60, 220);
    }
    painter.end();
    EXPECT_GT(difference(grab_, spoilt), k_same);
}

TEST_F(Copies, APdfIsWhatIsSeenWithTextAsText) {
    const fs::path pdf = file("copy.pdf");
    ASSERT_TRUE(write_copy(copy_of(sheet_), pdf, Standing::keep));
    const QImage page = pdf_page(pdf);
    // 520 pixels of 1/96 in; a page's size in a file is whole points (1/72 in).
    EXPECT_NEAR(page.width(), 520, 2);
    EXPECT_NEAR(page.height(), 320, 2);
    EXPECT_LT(difference(grab_, page), k_same);
    EXPECT_THAT(run("pdftotext", {QString::fromStdString(pdf.string()), "-"}).toStdString(),
                HasSubstr("section at 3.9 · 700 mm"));
    EXPECT_FALSE(bytes(pdf).contains("/Subtype /Image\n/Width 520")) << "not a picture of the screen";
}

TEST_F(Copies, AnSvgIsWhatIsSeenWithTextAsTextAndTheClipKept) {
    const fs::path svg = file("copy.svg");
    ASSERT_TRUE(write_copy(copy_of(sheet_), svg, Standing::keep));
    EXPECT_LT(difference(grab_, rendered(bytes(svg), sheet_.size())), k_same);
    EXPECT_TRUE(bytes(svg).contains(">section at 3.9 · 700 mm</text>"));
}

TEST_F(Copies, APngIsTwiceAsFineAsTheScreen) {
    const fs::path png = file("copy.png");
    ASSERT_TRUE(write_copy(copy_of(sheet_), png, Standing::keep));
    const QImage image(QString::fromStdString(png.string()));
    EXPECT_EQ(image.size(), QSize(1040, 640));
    EXPECT_LT(difference(grab_, image), k_same);
}

TEST_F(Copies, DarkPaperIsCopiedDark) {
    sheet_.setPalette(looks::palette(looks::Tone::dark));
    sheet_.render(&grab_);
    const fs::path svg = file("dark.svg");
    ASSERT_TRUE(write_copy(copy_of(sheet_), svg, Standing::keep));
    EXPECT_LT(difference(grab_, rendered(bytes(svg), sheet_.size())), k_same);
}

TEST_F(Copies, NothingIsOverwrittenUnasked) {
    const fs::path pdf = file("copy.pdf");
    QFile(QFile::decodeName(pdf.c_str())).open(QIODevice::WriteOnly);
    const auto refused = write_copy(copy_of(sheet_), pdf, Standing::keep);
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("exists already"));
    EXPECT_TRUE(bytes(pdf).isEmpty());
    EXPECT_TRUE(write_copy(copy_of(sheet_), pdf, Standing::replace));
    const auto other = write_copy(copy_of(sheet_), file("copy.bmp"), Standing::keep);
    ASSERT_FALSE(other);
    EXPECT_THAT(other.error().message, HasSubstr(".pdf, .svg or .png"));
    EXPECT_FALSE(write_copy(copy_of(sheet_), file("no such folder") / "copy.pdf", Standing::keep));
    EXPECT_EQ(file_name_of(copy_of(sheet_)).find_first_of(" .·/"), std::string::npos);
}

TEST_F(Copies, TheClipboardHasLinesAndAPicture) {
    const auto data = clipboard_copy(copy_of(sheet_));
    EXPECT_LT(difference(grab_, rendered(data->data("image/svg+xml"), sheet_.size())), k_same);
    EXPECT_LT(difference(grab_, qvariant_cast<QImage>(data->imageData())), k_same);
}

TEST_F(Copies, APrintedPageSaysWhatItIsOfAndHowItIsScaled) {
    core::Job job;
    job.vehicle = "Estate A";
    job.side = core::Side::left;
    job.revision = "C";
    job.date = "2026-03-02";
    EXPECT_EQ(heading_of(job), "Estate A · LEFT SIDE · revision C · 2026-03-02 · numbers in mm");
    EXPECT_EQ(heading_of({}), "RIGHT SIDE · numbers in mm");
    const fs::path pdf = file("page.pdf");
    QPdfWriter printer(QFile::decodeName(pdf.c_str()));
    printer.setPageSize(QPageSize(QPageSize::A4));
    printer.setPageOrientation(QPageLayout::Landscape);
    ASSERT_TRUE(print_copy(copy_of(sheet_), heading_of(job), printer));
    const std::string text = run("pdftotext", {QString::fromStdString(pdf.string()), "-"}).toStdString();
    EXPECT_THAT(text, HasSubstr("Estate A · LEFT SIDE · revision C · 2026-03-02 · numbers in mm"));
    EXPECT_THAT(text, HasSubstr("not to scale, see the scale bar"));
    // The drawing is as large as fits, in its own proportions: cut out, it is the drawing.
    const QImage page = pdf_page(pdf);
    QRect found;
    const QRgb paper = looks::colours(looks::Tone::light).paper.rgb();
    for (int y = 0; y < page.height(); ++y) {
        for (int x = 0; x < page.width(); ++x) {
            if (page.pixel(x, y) == paper) {
                found |= QRect(x, y, 1, 1);
            }
        }
    }
    EXPECT_NEAR(static_cast<double>(found.width()) / found.height(), 520.0 / 320.0, 0.01);
    EXPECT_GT(found.height(), 500);
    EXPECT_LT(difference(grab_, page.copy(found)), 2.0 * k_same) << "enlarged, the edges are finer";
}

TEST_F(Copies, WhatIsNoPaperGivesItsPicture) {
    QImage image(200, 100, QImage::Format_RGB32);
    image.fill(Qt::darkGreen);
    const Copyable copy = copy_of(image, "in the round", {200, 100});
    const fs::path png = file("round.png");
    ASSERT_TRUE(write_copy(copy, png, Standing::keep));
    EXPECT_LT(difference(image, QImage(QString::fromStdString(png.string()))), 0.5);
    EXPECT_EQ(file_name_of(copy), "in_the_round");
}

TEST_F(Copies, TheMenuHasThreeActionsThatAGloveCanPress) {
    add_copy_actions(sheet_, [] { return QString(); });
    sheet_.show();
    emit sheet_.customContextMenuRequested({10, 10});
    auto* menu = sheet_.findChild<QMenu*>("copyMenu");
    ASSERT_NE(menu, nullptr);
    ASSERT_EQ(menu->actions().size(), 3);
    for (QAction* action : menu->actions()) {
        EXPECT_GE(menu->actionGeometry(action).height(), 40) << action->text().toStdString();
    }
    menu->close();
    sheet_.findChild<QAction*>("copyPicture")->trigger();
    EXPECT_LT(difference(grab_, QApplication::clipboard()->image()), k_same);
}

TEST_F(Copies, AMenuOfItsOwnIsLeftAlone) {
    add_copy_actions(sheet_, {}, CopyMenu::its_own);
    EXPECT_EQ(sheet_.contextMenuPolicy(), Qt::DefaultContextMenu);
    EXPECT_EQ(sheet_.actions().size(), 3);
}

}  // namespace
}  // namespace sillwright::app
