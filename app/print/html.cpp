#include "app/print/html.h"

#include <QBuffer>
#include <QRegularExpression>
#include <QSvgGenerator>
#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include "app/drawings/clipped_device.h"
#include "app/looks.h"
#include "app/print/strip_of_page.h"
#include "app/text_of.h"
#include "core/finding_words.h"

namespace sillwright::app::print {

namespace {

constexpr QSizeF k_figure_room{1080.0, 1400.0};
constexpr double k_figure_page = 1400.0;  ///< Of which figures take their share of height.

constexpr const char* k_style = R"(
body { font-family: "DejaVu Sans", Verdana, sans-serif; font-size: 16px; line-height: 1.4; color: #262626;
  background: #F8F5ED; margin: 0 auto; max-width: 70em; padding: 1em; }
header.job { border-bottom: 3px solid #262626; margin-bottom: 1em; }
.side { float: right; font-size: 2.2em; font-weight: bold; }
section.paper { border-top: 3px solid #262626; margin-top: 3em; padding-top: 0.5em; }
table { border-collapse: collapse; margin: 1em 0; }
th, td { border: 1px solid #575348; padding: 0.25em 0.5em; text-align: left; vertical-align: top;
  overflow-wrap: anywhere; }
td.box { min-width: 6em; height: 2em; background: #FFFFFF; border: 2px solid #262626; }
dl { display: grid; grid-template-columns: minmax(8em, 24em) 1fr; gap: 0.1em 1em; }
dd { margin: 0; font-weight: bold; overflow-wrap: anywhere; }
.ask { display: grid; grid-template-columns: 2fr 1fr; gap: 1em; margin: 0.4em 0; }
.ask span { border: 2px solid #262626; min-height: 2em; background: #FFFFFF; }
.short { border: 3px solid #A83C00; padding: 0.5em 1em; }
.short h3, .short b { color: #A83C00; }
.open { border: 3px solid #5F5F5F; padding: 0.5em 1em; margin-top: 1em; }
.cautions { border-top: 1px solid #262626; font-size: 0.9em; margin-top: 1.5em; }
figure { margin: 1em 0; }
figure svg { max-width: 100%; height: auto; border: 1px solid #CFC8B6; }
@media print { body { background: none; font-size: 9.5pt; max-width: none; }
  section.paper { break-before: page; border-top: none; margin-top: 0; }
  tr, figure, .ask { break-inside: avoid; } thead { display: table-header-group; } h2, h3 { break-after: avoid; } }
)";

std::string svg_of(const FigurePicture& picture, const std::string& prefix) {
    QBuffer bytes;
    bytes.open(QIODevice::WriteOnly);
    QSvgGenerator writer;
    writer.setOutputDevice(&bytes);
    writer.setResolution(96);
    writer.setSize(
        QSize(static_cast<int>(std::ceil(picture.size.width())), static_cast<int>(std::ceil(picture.size.height()))));
    writer.setViewBox(QRectF(QPointF(), picture.size));
    QPainter on_file(&writer);
    // What is outside the figure is cut off: the format's own writer knows no clips.
    ClippedDevice clipped(on_file, writer);
    QPainter painter(&clipped);
    picture.draw(painter);
    painter.end();
    on_file.end();
    return inside_page(bytes.data().toStdString(), prefix);
}

std::string in_tag(const std::string& tag, const std::string& text) {
    return "<" + tag + ">" + escaped(text) + "</" + tag + ">\n";
}

class Blocks {
public:
    Blocks(const FigureSource& figures, std::string prefix) : figures_{figures}, prefix_{std::move(prefix)} {}
    std::string take() { return std::move(text_); }

    void operator()(const core::Heading& heading) { text_ += in_tag("h3", heading.words); }
    void operator()(const core::Words& words) {
        text_ += words.strong ? "<p><strong>" + escaped(words.words) + "</strong></p>\n" : in_tag("p", words.words);
    }
    void operator()(const core::Items& items) {
        const std::string tag = items.numbered ? "ol" : "ul";
        text_ += "<" + tag + ">\n";
        for (const std::string& item : items.items) {
            text_ += in_tag("li", item);
        }
        text_ += "</" + tag + ">\n";
    }
    void operator()(const core::Values& values) {
        text_ += "<dl>\n";
        for (const core::Input& line : values.lines) {
            text_ += in_tag("dt", line.name) + in_tag("dd", line.value);
        }
        text_ += "</dl>\n";
    }
    void operator()(const core::Grid& grid) {
        text_ += "<table>\n<thead><tr>";
        for (const std::string& column : grid.columns) {
            text_ += in_tag("th", column);
        }
        text_ += "</tr></thead>\n<tbody>\n";
        for (const auto& row : grid.rows) {
            text_ += "<tr>";
            for (std::size_t i = 0; i < grid.columns.size(); ++i) {
                const std::string cell = i < row.size() ? row[i] : std::string();
                const bool box = cell.empty() && std::find(grid.boxes.begin(), grid.boxes.end(), i) != grid.boxes.end();
                text_ += box ? "<td class=\"box\"></td>" : "<td>" + escaped(cell) + "</td>";
            }
            text_ += "</tr>\n";
        }
        text_ += "</tbody>\n</table>\n";
    }
    void operator()(const core::Boxes& boxes) {
        for (const std::string& question : boxes.questions) {
            text_ += "<div class=\"ask\"><div>" + escaped(question) + "</div><span></span></div>\n";
        }
    }
    void operator()(const core::Figure& figure) {
        const double share = std::clamp(figure.height_share, 0.05, 1.0);
        const FigurePicture picture =
            figures_ ? figures_(figure, {k_figure_room.width(), share * k_figure_page}) : FigurePicture{};
        text_ += "<figure>\n";
        if (picture.draw) {
            text_ += svg_of(picture, prefix_ + std::to_string(++figure_) + "-");
        }
        const std::string words = core::joined({figure.caption, picture.words.toStdString()}, " · ");
        text_ += in_tag("figcaption", words) + "</figure>\n";
    }

private:
    const FigureSource& figures_;
    std::string prefix_;
    std::string text_;
    int figure_ = 0;
};

std::string falls_short(const std::vector<core::Finding>& findings) {
    if (findings.empty()) {
        return {};
    }
    std::string text = "<div class=\"short\"><h3>" + std::to_string(findings.size()) +
                       (findings.size() == 1 ? " finding falls" : " findings fall") + " short in this job</h3>\n<ul>\n";
    for (const core::Finding& finding : findings) {
        text += "<li><b>" + core::look(finding.state).shape + "</b> " +
                escaped(falls_short_words(finding).toStdString()) + "</li>\n";
    }
    return text + "</ul></div>\n";
}

std::string list_in(const std::string& name, const std::string& title, const std::vector<std::string>& items) {
    if (items.empty()) {
        return {};
    }
    std::string text = "<div class=\"" + name + "\"><h3>" + escaped(title) + "</h3>\n<ul>\n";
    for (const std::string& item : items) {
        text += in_tag("li", item);
    }
    return text + "</ul></div>\n";
}

}  // namespace

std::string escaped(const std::string& text) {
    std::string safe;
    for (const char c : text) {
        switch (c) {
            case '&':
                safe += "&amp;";
                break;
            case '<':
                safe += "&lt;";
                break;
            case '>':
                safe += "&gt;";
                break;
            case '"':
                safe += "&quot;";
                break;
            default:
                // Control signs have no place in XML; line ends and tabs are mere space.
                safe += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
        }
    }
    return safe;
}

std::string inside_page(const std::string& svg, const std::string& prefix) {
    QString text = QString::fromUtf8(svg.data(), static_cast<qsizetype>(svg.size()));
    const qsizetype begin = text.indexOf(QStringLiteral("<svg"));
    text = begin < 0 ? text : text.mid(begin);
    static const QRegularExpression titles(QStringLiteral("<title>.*?</title>|<desc>.*?</desc>"),
                                           QRegularExpression::DotMatchesEverythingOption);
    text.remove(titles);
    const QString lead = text_of(prefix);
    static const QRegularExpression ids(QStringLiteral("\\bid=([\"'])"));
    static const QRegularExpression urls(QStringLiteral("url\\(#"));
    static const QRegularExpression links(QStringLiteral("href=([\"'])#"));
    text.replace(ids, QStringLiteral("id=\\1") + lead);
    text.replace(urls, QStringLiteral("url(#") + lead);
    text.replace(links, QStringLiteral("href=\\1#") + lead);
    return text.toStdString();
}

std::string report_html(const std::vector<core::Document>& documents, const JobHead& head,
                        const FigureSource& figures) {
    const std::string job = escaped(head.line().toStdString());
    const std::string side = escaped(head.side.toStdString());
    std::string html =
        "<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\">\n<head>\n"
        "<meta charset=\"utf-8\"/>\n<title>" +
        job + ", " + side + "</title>\n<style>" + k_style +
        "</style>\n</head>\n<body>\n<header class=\"job\"><div class=\"side\">" + side +
        "</div>\n<h1>All papers of the job</h1>\n<p>" + job + "</p></header>\n<nav><ul>\n";
    for (std::size_t i = 0; i < documents.size(); ++i) {
        html += "<li><a href=\"#paper-" + std::to_string(i + 1) + "\">" + escaped(documents[i].title) + "</a>, " +
                escaped(documents[i].reader) + "</li>\n";
    }
    html += "</ul></nav>\n";
    for (std::size_t i = 0; i < documents.size(); ++i) {
        const core::Document& document = documents[i];
        html += "<section class=\"paper\" id=\"paper-" + std::to_string(i + 1) + "\">\n<div class=\"side\">" + side +
                "</div>\n" + in_tag("h2", document.title) + in_tag("p", document.reader) + "<p>" + job + "</p>\n" +
                falls_short(document.falls_short) +
                list_in("open", "Still open: assumed or not measured", document.open);
        Blocks blocks(figures, "p" + std::to_string(i + 1) + "f");
        for (const core::Block& block : document.blocks) {
            std::visit(blocks, block);
        }
        html += blocks.take() + list_in("cautions", "Cautions", document.cautions) + "</section>\n";
    }
    return html + "</body>\n</html>\n";
}

}  // namespace sillwright::app::print
