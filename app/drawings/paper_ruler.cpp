#include "app/drawings/paper_ruler.h"

#include <QCoreApplication>
#include <QFontMetricsF>
#include <algorithm>
#include <array>
#include <cmath>

#include "app/length_words.h"
#include "core/typed.h"
#include "geometry/length_text.h"

namespace sillwright::app {

using core::BareUnit;

namespace {

constexpr double k_least_label_gap = 70.0;  ///< Between two numbers of a ruler, pixels.
constexpr double k_major_px = 10.0;
constexpr double k_minor_px = 5.0;
constexpr double k_least_bar_px = 90.0;
/// A number counts as whole within this part of a step.
constexpr double k_whole = 1e-9;
constexpr int k_sixteenths = 16;

double mm_of(BareUnit unit) {
    return geometry::in_mm(core::from_unit(1.0, unit));
}

RulerStep inch_step(double least_in) {
    for (const double part : {1.0 / 16.0, 1.0 / 8.0, 1.0 / 4.0, 1.0 / 2.0}) {
        if (part >= least_in) {
            return {part * mm_of(BareUnit::in), part > 0.1 ? 4 : 2};
        }
    }
    return {0.0, 0};
}

void draw_out_ruler(QPainter& painter, const QRectF& sheet, const QRectF& paper, const SectionScale& scale,
                    BareUnit unit, const RulerStep& step) {
    const double minor_px = step.length_mm * scale.pixels_per_mm / step.parts;
    const auto first = static_cast<int>(std::ceil((paper.left() - scale.origin.x()) / minor_px));
    const auto last = static_cast<int>(std::floor((paper.right() - scale.origin.x()) / minor_px));
    for (int i = first; i <= last; ++i) {
        const bool major = i % step.parts == 0;
        const double x = scale.origin.x() + i * minor_px;
        painter.drawLine(QPointF(x, paper.bottom()), QPointF(x, paper.bottom() + (major ? k_major_px : k_minor_px)));
        const QRectF box(x - 40.0, paper.bottom() + k_major_px, 80.0, sheet.bottom() - paper.bottom() - k_major_px);
        if (major && box.right() - 20.0 < sheet.right() && box.left() + 20.0 > paper.left()) {
            painter.drawText(box, Qt::AlignCenter, ruler_number(i / step.parts * step.length_mm, unit));
        }
    }
}

void draw_up_ruler(QPainter& painter, const QRectF& sheet, const QRectF& paper, const SectionScale& scale,
                   BareUnit unit, const RulerStep& step) {
    const double minor_px = step.length_mm * scale.pixels_per_mm / step.parts;
    const auto first = static_cast<int>(std::ceil((scale.origin.y() - paper.bottom()) / minor_px));
    const auto last = static_cast<int>(std::floor((scale.origin.y() - paper.top()) / minor_px));
    for (int i = first; i <= last; ++i) {
        const bool major = i % step.parts == 0;
        const double y = scale.origin.y() - i * minor_px;
        painter.drawLine(QPointF(paper.left() - (major ? k_major_px : k_minor_px), y), QPointF(paper.left(), y));
        const QRectF box(sheet.left(), y - 12.0, paper.left() - k_major_px - 3.0 - sheet.left(), 24.0);
        if (major && box.top() > sheet.top() && box.bottom() < paper.bottom()) {
            painter.drawText(box, Qt::AlignRight | Qt::AlignVCenter,
                             ruler_number(i / step.parts * step.length_mm, unit));
        }
    }
}

}  // namespace

RulerStep ruler_step(double least_px, double pixels_per_mm, BareUnit unit) {
    const double least = least_px / (pixels_per_mm * mm_of(unit));
    if (unit == BareUnit::in) {
        if (const RulerStep step = inch_step(least); step.parts > 0) {
            return step;
        }
    }
    const double decade = std::pow(10.0, std::floor(std::log10(least)));
    for (const double factor : {1.0, 2.0, 5.0}) {
        if (factor * decade >= least) {
            return {factor * decade * mm_of(unit), factor == 2.0 ? 4 : 5};
        }
    }
    return {10.0 * decade * mm_of(unit), 5};
}

QString ruler_number(double at_mm, BareUnit unit) {
    const double number = at_mm / mm_of(unit);
    const bool whole = std::abs(number - std::round(number)) <= k_whole;
    if (unit == BareUnit::in && !whole) {
        if (const auto text = geometry::print_inch_fraction(geometry::millimetres(at_mm), k_sixteenths)) {
            return QString::fromStdString(text.value().text).remove('"').replace('-', QChar(0x2212));
        }
    }
    // Zero without a sign; a step below one needs its decimals.
    const double shown = whole ? std::round(number) : number;
    return QString::number(shown == 0.0 ? 0.0 : shown, 'g', 6).replace('-', QChar(0x2212));
}

void draw_rulers(QPainter& painter, const QRectF& sheet, const QRectF& paper, const SectionScale& scale, BareUnit unit,
                 const looks::Colours& colours) {
    painter.setPen(QPen(colours.edge, 1.0));
    painter.drawLine(paper.topLeft(), paper.bottomLeft());
    painter.drawLine(paper.bottomLeft(), paper.bottomRight());
    painter.setFont(looks::font(looks::k_text));
    painter.setPen(QPen(colours.pencil, 1.0));
    const RulerStep step = ruler_step(k_least_label_gap, scale.pixels_per_mm, unit);
    draw_out_ruler(painter, sheet, paper, scale, unit, step);
    draw_up_ruler(painter, sheet, paper, scale, unit, step);
    painter.drawText(QRectF(sheet.left(), paper.bottom(), paper.left() - sheet.left(), sheet.bottom() - paper.bottom()),
                     Qt::AlignCenter, QString::fromStdString(unit_word(unit)));
}

namespace {

QPointF bar_start(const QRectF& paper) {
    return {paper.left() + 16.0, paper.bottom() - 14.0};
}

QString bar_words(const RulerStep& step, BareUnit unit) {
    return QCoreApplication::translate("SectionDrawing", "%1 %2 on the paper")
        .arg(ruler_number(step.length_mm, unit), QString::fromStdString(unit_word(unit)));
}

}  // namespace

void draw_scale_bar(QPainter& painter, const QRectF& paper, const SectionScale& scale, BareUnit unit,
                    const looks::Colours& colours) {
    const RulerStep step = ruler_step(k_least_bar_px, scale.pixels_per_mm, unit);
    const QPointF from = bar_start(paper);
    painter.setPen(QPen(colours.graphite, 2.4, Qt::SolidLine, Qt::FlatCap));
    painter.drawLine(from, from + QPointF(step.length_mm * scale.pixels_per_mm, 0.0));
    painter.setFont(looks::font(looks::k_text));
    painter.setPen(colours.pencil);
    painter.drawText(from + QPointF(0.0, -8.0), bar_words(step, unit));
}

QRectF scale_bar_box(const QRectF& paper, const SectionScale& scale, BareUnit unit) {
    const RulerStep step = ruler_step(k_least_bar_px, scale.pixels_per_mm, unit);
    const QPointF from = bar_start(paper);
    const QFontMetricsF metrics(looks::font(looks::k_text));
    const double width =
        std::max(step.length_mm * scale.pixels_per_mm, metrics.horizontalAdvance(bar_words(step, unit)));
    return {from.x(), from.y() - 8.0 - metrics.ascent(), width, metrics.height() + 10.0};
}

}  // namespace sillwright::app
