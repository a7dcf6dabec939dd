#include "app/drawings/section_hand.h"

#include <QCoreApplication>
#include <QFontMetricsF>
#include <QPainterPath>
#include <algorithm>
#include <cmath>

#include "app/drawings/section_ink.h"

namespace sillwright::app {

using Eigen::Vector2d;

namespace {

constexpr double k_ring = 9.0;
constexpr double k_handle = 7.0;
constexpr double k_handle_off = 26.0;  ///< From the rounding's centre.
/// A corner flatter than this has no rounding that could be seen: sine of half its angle.
constexpr double k_flat = 0.999;
constexpr double k_room_kept = 0.98;  ///< Of the straights, so that two roundings never touch.
constexpr QSizeF k_number_box{84.0, 40.0};
constexpr double k_radius_box_width = 130.0;

Vector2d on_sheet_direction(const Vector2d& direction) {
    return {direction.x(), -direction.y()};
}

QPointF offset(const QPointF& from, const Vector2d& direction, double px) {
    const Vector2d unit = on_sheet_direction(direction);
    return from + px * QPointF(unit.x(), unit.y());
}

void draw_rounding(QPainter& painter, const SectionNode& node, const SectionCorner& corner, double radius_mm,
                   const SectionScale& scale) {
    const Vector2d centre = node.at_mm + radius_mm / corner.half_sine * corner.inward;
    const double r = radius_mm * scale.pixels_per_mm;
    painter.drawEllipse(scale.on_sheet(centre), r, r);
}

void draw_number(QPainter& painter, const QRectF& box, const QString& text, bool typed, const looks::Colours& colours) {
    QFont font = looks::font(looks::k_text, true);
    font.setUnderline(typed);
    painter.setFont(font);
    painter.setPen(QPen(colours.skirt, 1.2));
    painter.setBrush(colours.paper);
    painter.drawRoundedRect(box.adjusted(1.0, 1.0, -1.0, -1.0), 4.0, 4.0);
    painter.setPen(colours.graphite);
    painter.drawText(box, Qt::AlignCenter, QFontMetricsF(font).elidedText(text, Qt::ElideRight, box.width() - 6.0));
}

}  // namespace

std::optional<SectionCorner> corner_of(const SectionNode& node) {
    if (!node.before_mm || !node.behind_mm) {
        return std::nullopt;
    }
    const Vector2d before = *node.before_mm - node.at_mm;
    const Vector2d behind = *node.behind_mm - node.at_mm;
    if (before.norm() == 0.0 || behind.norm() == 0.0) {
        return std::nullopt;
    }
    const Vector2d halving = before.normalized() + behind.normalized();
    const double half_cosine = 0.5 * halving.norm();
    const double half_sine = std::sqrt(std::max(0.0, 1.0 - half_cosine * half_cosine));
    if (half_sine > k_flat || half_cosine == 0.0 || half_sine == 0.0) {
        return std::nullopt;
    }
    const double room = k_room_kept * std::min(before.norm(), behind.norm());
    return SectionCorner{halving.normalized(), half_sine, room * half_sine / half_cosine};
}

std::optional<QPointF> radius_handle(const SectionNode& node, double radius_mm, const SectionScale& scale) {
    const auto corner = corner_of(node);
    if (!corner) {
        return std::nullopt;
    }
    const double centre_px = radius_mm / corner->half_sine * scale.pixels_per_mm;
    return offset(scale.on_sheet(node.at_mm), corner->inward, centre_px + k_handle_off);
}

double radius_for(const SectionNode& node, const QPointF& handle, const SectionScale& scale) {
    const auto corner = corner_of(node);
    if (!corner) {
        return node.radius_mm;
    }
    const QPointF from = handle - scale.on_sheet(node.at_mm);
    const Vector2d inward = on_sheet_direction(corner->inward);
    const double px = from.x() * inward.x() + from.y() * inward.y() - k_handle_off;
    return std::clamp(px / scale.pixels_per_mm * corner->half_sine, 0.0, corner->most_mm);
}

void draw_held_node(QPainter& painter, const SectionNode& node, std::optional<double> radius_mm,
                    const SectionScale& scale, const looks::Colours& colours) {
    const QColor colour = ink_of(node.role, colours);
    const QPointF at = scale.on_sheet(node.at_mm);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(colour, 2.4));
    painter.drawEllipse(at, k_ring, k_ring);
    const auto corner = corner_of(node);
    const auto handle = radius_handle(node, radius_mm.value_or(node.radius_mm), scale);
    if (!corner || !handle) {
        return;
    }
    painter.setPen(QPen(colour, 1.0, Qt::DashLine));
    painter.drawLine(offset(at, corner->inward, k_ring), *handle);
    if (radius_mm) {
        draw_rounding(painter, node, *corner, *radius_mm, scale);
    }
    painter.setPen(QPen(colour, 2.0));
    painter.setBrush(colours.paper);
    painter.drawEllipse(*handle, k_handle, k_handle);
}

QRectF out_box(const SectionSheet& sheet, const SectionNode& node, const SectionScale& scale) {
    const double left = std::clamp(scale.on_sheet(node.at_mm).x() - 0.5 * k_number_box.width(), sheet.paper.left(),
                                   std::max(sheet.paper.left(), radius_box(sheet).left() - k_number_box.width() - 4.0));
    return {left, sheet.paper.bottom() + 2.0, k_number_box.width(), k_number_box.height()};
}

QRectF up_box(const SectionSheet& sheet, const SectionNode& node, const SectionScale& scale) {
    const double top = std::clamp(scale.on_sheet(node.at_mm).y() - 0.5 * k_number_box.height(), sheet.paper.top(),
                                  std::max(sheet.paper.top(), sheet.paper.bottom() - k_number_box.height()));
    return {sheet.sheet.left() + 1.0, top, std::min(k_number_box.width(), sheet.paper.left() - 2.0),
            k_number_box.height()};
}

QRectF radius_box(const SectionSheet& sheet) {
    const double right = sheet.covered.isEmpty() ? sheet.sheet.right() : sheet.covered.left();
    return {right - k_radius_box_width - 2.0, sheet.paper.bottom() + 2.0, k_radius_box_width, k_number_box.height()};
}

void draw_numbers(QPainter& painter, const SectionSheet& sheet, const SectionNode& node, const SectionScale& scale,
                  const looks::Colours& colours) {
    const QPointF at = scale.on_sheet(node.at_mm);
    painter.setPen(QPen(colours.skirt, 1.0, Qt::DotLine));
    painter.drawLine(at, QPointF(at.x(), sheet.paper.bottom()));
    painter.drawLine(at, QPointF(sheet.paper.left(), at.y()));
    draw_number(painter, out_box(sheet, node, scale), QString::fromStdString(node.out.text), node.out.typed, colours);
    draw_number(painter, up_box(sheet, node, scale), QString::fromStdString(node.up.text), node.up.typed, colours);
    if (corner_of(node)) {
        const QString words = QCoreApplication::translate("SectionDrawing", "radius %1");
        draw_number(painter, radius_box(sheet), words.arg(QString::fromStdString(node.radius.text)), node.radius.typed,
                    colours);
    }
}

void draw_landing(QPainter& painter, const SectionLanding& landing, const SectionScale& scale,
                  const looks::Colours& colours) {
    const QPointF at = scale.on_sheet(landing.at_mm);
    painter.setBrush(Qt::NoBrush);
    if (landing.from_mm) {
        painter.setPen(QPen(colours.skirt, 1.6, Qt::DashLine));
        painter.drawLine(scale.on_sheet(*landing.from_mm), at);
    }
    if (landing.axis.norm() > 0.0) {
        painter.setPen(QPen(colours.graphite, 1.4, Qt::DashDotLine));
        const Vector2d along = landing.axis.normalized();
        painter.drawLine(offset(at, along, -36.0), offset(at, along, 60.0));
    }
    painter.setPen(QPen(colours.graphite, 2.0));
    painter.drawEllipse(at, k_ring, k_ring);
    painter.drawLine(at - QPointF(k_ring, 0.0), at + QPointF(k_ring, 0.0));
    painter.drawLine(at - QPointF(0.0, k_ring), at + QPointF(0.0, k_ring));
}

void draw_corner_words(QPainter& painter, const SectionSheet& sheet, const QString& words,
                       const looks::Colours& colours) {
    if (words.isEmpty()) {
        return;
    }
    painter.setFont(looks::font(looks::k_text));
    const QFontMetricsF metrics(painter.font());
    const double width = std::min(metrics.horizontalAdvance(words) + 16.0, sheet.paper.width());
    const QRectF box(sheet.corner.right() - width, sheet.corner.top(), width, sheet.corner.height());
    painter.fillRect(box, colours.paper);
    painter.setPen(colours.pencil);
    painter.drawText(box.adjusted(8.0, 0.0, -8.0, 0.0), Qt::AlignRight | Qt::AlignVCenter,
                     metrics.elidedText(words, Qt::ElideRight, width - 16.0));
}

void draw_said(QPainter& painter, const SectionSheet& sheet, const QString& sentence, const looks::Colours& colours) {
    painter.setFont(looks::font(looks::k_text));
    const QFontMetricsF metrics(painter.font());
    const QRectF room = sheet.field.adjusted(16.0, 0.0, -16.0, 0.0);
    QRectF box = metrics.boundingRect(room, Qt::TextWordWrap, sentence).adjusted(-8.0, -4.0, 8.0, 4.0);
    box.moveBottomLeft(sheet.paper.bottomLeft() + QPointF(8.0, -8.0));
    painter.setPen(QPen(colours.pencil, 1.6));
    painter.setBrush(colours.paper);
    painter.drawRoundedRect(box, 4.0, 4.0);
    painter.setPen(colours.graphite);
    painter.drawText(box, Qt::AlignCenter | Qt::TextWordWrap, sentence);
}

}  // namespace sillwright::app
