#include "app/print/html.h"

#include <gtest/gtest.h>

#include <QRegularExpression>
#include <QXmlStreamReader>
#include <set>

namespace sillwright::app::print {
namespace {

FigurePicture with_gradient(const core::Figure&, const QSizeF& room) {
    const QSizeF size(200.0, std::min(100.0, room.height()));
    return {size, [size](QPainter& painter) {
                QLinearGradient gradient(0.0, 0.0, size.width(), 0.0);
                gradient.setColorAt(0.0, Qt::white);
                gradient.setColorAt(1.0, Qt::black);
                painter.fillRect(QRectF(QPointF(), size), gradient);
                painter.drawText(QPointF(10.0, 20.0), QStringLiteral("drawn words"));
            }};
}

std::string report() {
    core::Finding finding;
    finding.title = "Gap <of> the door & sill";
    finding.state = core::State::falls_short;
    finding.found = 1.0;
    finding.required = 2.0;
    finding.margin = -1.0;
    std::vector<core::Document> papers(2);
    for (core::Document& paper : papers) {
        paper.title = "Paper \"one\" & <two>";
        paper.reader = "for the installer";
        paper.falls_short = {finding};
        paper.open = {"sag not measured"};
        paper.cautions = {"mind the jack"};
        core::Figure figure;
        figure.caption = "a < b";
        paper.blocks = {core::Heading{"H"},
                        core::Words{"<script>alert(1)</script>", true},
                        core::Items{{"one"}, true},
                        core::Values{{{"name", "12 < 13"}}},
                        core::Grid{{"a", "b"}, {{"1", ""}}, {1}},
                        core::Boxes{{"asked?"}},
                        figure,
                        figure};
    }
    const JobHead head{QStringLiteral("Car <A>"), QStringLiteral("1"), QStringLiteral("2026-11-30"),
                       QStringLiteral("mm"), QStringLiteral("LEFT SIDE")};
    return report_html(papers, head, with_gradient);
}

TEST(ReportHtml, IsWellFormedAndHasEveryBlock) {
    const std::string html = report();
    QXmlStreamReader xml(QString::fromStdString(html));
    QString text;
    int tables = 0;
    int drawings = 0;
    while (!xml.atEnd()) {
        xml.readNext();
        if (xml.isCharacters()) {
            text += xml.text();
        }
        tables += xml.isStartElement() && xml.name() == QStringLiteral("table");
        drawings += xml.isStartElement() && xml.name() == QStringLiteral("svg");
    }
    EXPECT_FALSE(xml.hasError()) << xml.errorString().toStdString() << " in line " << xml.lineNumber();
    EXPECT_EQ(tables, 2);
    EXPECT_EQ(drawings, 4);
    for (const char* words : {"<script>alert(1)</script>", "Gap <of> the door & sill", "sag not measured",
                              "mind the jack", "12 < 13", "asked?", "a < b", "drawn words", "LEFT SIDE", "Car <A>"}) {
        EXPECT_TRUE(text.contains(QString::fromLatin1(words))) << words;
    }
    EXPECT_EQ(html.find("<script"), std::string::npos);
}

TEST(ReportHtml, NeedsNoOtherFileAndHasEachIdOnce) {
    const QString html = QString::fromStdString(report());
    static const QRegularExpression outside(QStringLiteral("(src|href)=[\"'](?!#)|@import|url\\((?!#)"));
    EXPECT_FALSE(html.contains(outside));
    static const QRegularExpression id(QStringLiteral("\\bid=[\"']([^\"']+)[\"']"));
    std::set<QString> ids;
    for (auto it = id.globalMatch(html); it.hasNext();) {
        EXPECT_TRUE(ids.insert(it.next().captured(1)).second);
    }
    EXPECT_GE(ids.size(), 6U);  // Two papers, four gradients.
    static const QRegularExpression used(QStringLiteral("(?:url\\(#|href=[\"']#)([^)\"']+)"));
    for (auto it = used.globalMatch(html); it.hasNext();) {
        const QString name = it.next().captured(1);
        EXPECT_TRUE(ids.count(name) == 1) << name.toStdString();
    }
}

TEST(ReportHtml, PutsAPrefixBeforeIds) {
    EXPECT_EQ(inside_page("<?xml version=\"1.0\"?><svg id=\"a\"><title>t</title><g fill=\"url(#a)\"/></svg>", "p1-"),
              "<svg id=\"p1-a\"><g fill=\"url(#p1-a)\"/></svg>");
}

}  // namespace
}  // namespace sillwright::app::print
