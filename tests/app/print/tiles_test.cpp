#include "app/print/tiles.h"

#include <gtest/gtest.h>

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <algorithm>
#include <cmath>

#include "app/print/tile_plan.h"
#include "tests/app/print/run_tool.h"

namespace sillwright::app::print {
namespace {

using Eigen::Vector2d;

JobHead invented_head() {
    return {QStringLiteral("Estate A"), QStringLiteral("3"), QStringLiteral("2026-11-30"), QStringLiteral("mm"),
            QStringLiteral("RIGHT SIDE")};
}

/// Thick crosses at these places, and an edge from one to the next.
core::Template with_marks(const std::vector<Vector2d>& places) {
    core::Template one;
    one.stem = "marks";
    one.title = "Marks";
    one.this_side_out = "THIS SIDE OUT: seen from below";
    one.notes = {"Measure the marks."};
    one.drawing.layers = {{"CUT_OUTSIDE", 7}, {"NOTE", 8}};
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (const Vector2d& arm : {Vector2d(3.0, 0.0), Vector2d(0.0, 3.0)}) {
            one.drawing.entities.push_back({"CUT_OUTSIDE", geometry::DrawnLine{places[i] - arm, places[i] + arm}});
        }
        if (i > 0) {
            one.drawing.entities.push_back({"NOTE", geometry::DrawnLine{places[i - 1], places[i]}});
        }
    }
    return one;
}

QJsonObject joined(const std::string& pdf) {
    const QTemporaryDir folder;
    const QString file = folder.filePath(QStringLiteral("template.pdf"));
    QFile out(file);
    EXPECT_TRUE(out.open(QIODevice::WriteOnly));
    out.write(pdf.data(), static_cast<qint64>(pdf.size()));
    out.close();
    const QByteArray json =
        run_tool(QStringLiteral("/usr/bin/python3"),
                 {QStringLiteral(SILLWRIGHT_SOURCE_DIR "/tests/reference/template_tiles.py"), file});
    return QJsonDocument::fromJson(json).object();
}

/// The joined marks' distances are the template's own.
void expect_true_size(const core::Template& one, const std::vector<Vector2d>& places, core::PaperSize size,
                      int least_sheets) {
    const auto pdf = template_pdf(one, invented_head(), size);
    ASSERT_TRUE(pdf);
    const QJsonObject found = joined(pdf.value());
    EXPECT_GE(found["sheets"].toInt(), least_sheets);
    EXPECT_EQ(found["laid"].toInt(), found["sheets"].toInt());
    EXPECT_LT(found["spread"].toDouble(), 0.02);
    std::vector<Vector2d> marks;
    for (const auto& mark : found["marks"].toArray()) {
        marks.emplace_back(mark.toArray()[0].toDouble(), mark.toArray()[1].toDouble());
    }
    ASSERT_EQ(marks.size(), places.size());
    // The joined drawing is laid on the template by its first and last mark from the left.
    const auto by_place = [](const Vector2d& a, const Vector2d& b) {
        return std::abs(a.x() - b.x()) > 0.5 ? a.x() < b.x() : a.y() < b.y();
    };
    std::vector<Vector2d> wanted = places;
    std::sort(wanted.begin(), wanted.end(), by_place);
    std::sort(marks.begin(), marks.end(), by_place);
    for (std::size_t i = 0; i < marks.size(); ++i) {
        for (std::size_t k = 0; k < i; ++k) {
            EXPECT_NEAR((marks[i] - marks[k]).norm(), (wanted[i] - wanted[k]).norm(), 0.1) << i << ' ' << k;
        }
    }
    for (const auto& page : found["bars"].toArray()) {
        ASSERT_EQ(page.toArray().size(), 2);
        EXPECT_NEAR(page.toArray()[0].toDouble(), 100.0, 0.05);
        EXPECT_NEAR(page.toArray()[1].toDouble(), 101.6, 0.05);
    }
}

TEST(Tiles, AThousandMillimetresAcrossSheetsAreRight) {
    const std::vector<Vector2d> places{{0.0, 0.0}, {1000.0, 0.0}, {1803.2, 41.7}};
    const core::Template one = with_marks(places);
    expect_true_size(one, places, core::PaperSize::a4, 7);
    expect_true_size(one, places, core::PaperSize::letter, 7);
    expect_true_size(one, places, core::PaperSize::a3, 4);
}

TEST(Tiles, RowsAndColumnsJoin) {
    const std::vector<Vector2d> places{{0.0, 0.0}, {430.0, 10.0}, {420.0, 600.0}, {-10.0, 590.0}};
    expect_true_size(with_marks(places), places, core::PaperSize::a4, 6);
}

TEST(Tiles, LeavesEmptySheetsOut) {
    // A corner: of three by three sheets those inside its two arms are empty.
    const core::Template one = with_marks({{0.0, 0.0}, {0.0, 640.0}, {520.0, 640.0}});
    const TilePlan plan = tile_plan(one.drawing, core::PaperSize::a4);
    EXPECT_GT(plan.rows * plan.columns, static_cast<int>(plan.tiles.size()));
    const auto pdf = template_pdf(one, invented_head(), core::PaperSize::a4);
    ASSERT_TRUE(pdf);
    const ReadPdf read = read_pdf(pdf.value());
    EXPECT_EQ(read.pages.size(), plan.tiles.size() + 1);
    EXPECT_TRUE(read.text().contains(QStringLiteral("left out")));
}

TEST(Tiles, EverySheetSaysWhatItIs) {
    const auto pdf = template_pdf(with_marks({{0.0, 0.0}, {1000.0, 0.0}}), invented_head(), core::PaperSize::a4);
    ASSERT_TRUE(pdf);
    const ReadPdf read = read_pdf(pdf.value());
    expect_on_pages(read);
    for (std::size_t i = 0; i < read.pages.size(); ++i) {
        const QString text = read.text(static_cast<int>(i));
        for (const char* words : {"MEASURE THIS BEFORE USE: 100 mm", "4 in", "PRINT AT 100 %, NOT FITTED TO THE PAGE",
                                  "RIGHT SIDE", "THIS SIDE OUT", "Estate A", "revision 3"}) {
            EXPECT_TRUE(text.contains(QString::fromLatin1(words))) << i << ' ' << words;
        }
        EXPECT_EQ(text.contains(QStringLiteral("SHEET A")), i > 0);
    }
    EXPECT_TRUE(read.text(0).contains(QStringLiteral("Measure the marks.")));
    EXPECT_TRUE(read.text(1).contains(QStringLiteral("A2")));
}

TEST(Tiles, RefusesWhatHasNothingOrIsFarTooLarge) {
    core::Template none;
    none.title = "None";
    EXPECT_FALSE(template_pdf(none, invented_head(), core::PaperSize::a4));
    core::Template large = with_marks({});
    for (int i = 0; i < 40; ++i) {
        large.drawing.entities.push_back({"CUT_OUTSIDE", geometry::DrawnLine{{0.0, 200.0 * i}, {12000.0, 200.0 * i}}});
    }
    EXPECT_FALSE(template_pdf(large, invented_head(), core::PaperSize::a4));
}

}  // namespace
}  // namespace sillwright::app::print
