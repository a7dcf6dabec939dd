#include "app/print/page_words.h"

#include <QFontMetricsF>
#include <QRegularExpression>
#include <QTextLayout>
#include <algorithm>
#include <cmath>

namespace sillwright::app::print {

QFont page_font(double points, bool bold) {
    QFont font;
    font.setPixelSize(static_cast<int>(std::lround(points * k_units_per_point)));
    font.setBold(bold);
    font.setHintingPreference(QFont::PreferNoHinting);
    return font;
}

double width_of(const QString& text, const QFont& font) {
    return QFontMetricsF(font).horizontalAdvance(text);
}

double line_height(const QFont& font) {
    return QFontMetricsF(font).lineSpacing();
}

std::vector<QString> wrapped(const QString& text, const QFont& font, double width) {
    std::vector<QString> lines;
    for (const QString& paragraph : text.split(u'\n')) {
        QTextLayout layout(paragraph, font);
        QTextOption option;
        option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);
        layout.setTextOption(option);
        layout.beginLayout();
        for (QTextLine line = layout.createLine(); line.isValid(); line = layout.createLine()) {
            line.setLineWidth(width);
            lines.push_back(paragraph.mid(line.textStart(), line.textLength()).trimmed());
        }
        layout.endLayout();
        if (paragraph.isEmpty() && lines.empty()) {
            lines.emplace_back();
        }
    }
    return lines;
}

double widest_word(const QString& text, const QFont& font) {
    double widest = 0.0;
    for (const QString& word : text.split(QRegularExpression(QStringLiteral("\\s")), Qt::SkipEmptyParts)) {
        widest = std::max(widest, width_of(word, font));
    }
    return widest;
}

void draw_line_of_words(QPainter& painter, const QPointF& at, const QString& line, const QFont& font) {
    if (!line.isEmpty()) {
        painter.setFont(font);
        painter.drawText(at + QPointF(0.0, QFontMetricsF(font).ascent()), line);
    }
}

void draw_lines_of_words(QPainter& painter, const QPointF& at, const std::vector<QString>& lines, const QFont& font) {
    QPointF next = at;
    for (const QString& line : lines) {
        draw_line_of_words(painter, next, line, font);
        next.ry() += line_height(font);
    }
}

}  // namespace sillwright::app::print
