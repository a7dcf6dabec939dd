#include "app/drawings/mount_mark.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sillwright::app {

namespace {

constexpr double k_cross_beyond = 4.0;  ///< How far the cross reaches out of the shape, pixels.
constexpr double k_cross_alone = 7.0;   ///< Half a cross that has no shape round it.
constexpr double k_least_half = 1.0;    ///< Nothing is drawn smaller.

/// A slot's outline, rounded at both ends; a circle if it is no longer than wide.
void draw_slot(QPainter& painter, const QPointF& at, double length, double width) {
    const double longer = std::max(length, width);
    painter.drawRoundedRect(QRectF(at.x() - longer / 2.0, at.y() - width / 2.0, longer, width), width / 2.0,
                            width / 2.0);
}

void draw_nut(QPainter& painter, const QPointF& at, double across) {
    constexpr int k_flats = 6;
    QPolygonF corners;
    const double corner = across / std::numbers::sqrt3;  // width across the flats to the corners
    for (int i = 0; i < k_flats; ++i) {
        const double angle = std::numbers::pi * i / 3.0;
        corners << at + corner * QPointF(std::cos(angle), std::sin(angle));
    }
    painter.drawPolygon(corners);
}

void draw_shape_of(QPainter& painter, const QPointF& at, const StripMount& mount, double width, double length) {
    if (mount.kind == core::MountKind::nut) {
        draw_nut(painter, at, width);
    } else if (mount.kind == core::MountKind::hole && mount.shape == core::HoleShape::square) {
        painter.drawRect(QRectF(at.x() - width / 2.0, at.y() - width / 2.0, width, width));
    } else {
        draw_slot(painter, at, mount.shape == core::HoleShape::slot ? length : width, width);
    }
}

}  // namespace

QSizeF mount_half_size(const StripMount& mount, const MountScale& scale) {
    if (!mount.size_mm) {
        return {k_cross_alone, k_cross_alone};
    }
    const double px = scale.pixels_for_mm / 2.0;
    double across = *mount.size_mm;
    double along = std::max(across, mount.length_mm);
    if (mount.part_mm) {
        along = std::max(along, mount.part_mm->x());
        across = std::max(across, mount.part_mm->y());
    }
    return {std::max(k_least_half, along * px), std::max(k_least_half, across * px)};
}

void draw_mount(QPainter& painter, const QPointF& at, const StripMount& mount, const MountScale& scale,
                looks::Tone tone) {
    const looks::Colours& colours = looks::colours(tone);
    painter.save();
    const QColor ink = mount.used ? colours.graphite : colours.pencil;
    if (mount.sd_mm) {
        painter.setPen(QPen(colours.pencil, 1.0));
        painter.setBrush(Qt::NoBrush);
        painter.drawEllipse(at, k_ellipse_95 * mount.sd_mm->x() * scale.ellipse,
                            k_ellipse_95 * mount.sd_mm->y() * scale.ellipse);
    }
    double half_along = k_cross_alone;
    double half_across = k_cross_alone;
    painter.setPen(QPen(ink, scale.bold ? 2.4 : 1.4));
    if (mount.size_mm) {
        const double px = scale.pixels_for_mm;
        const bool stud = mount.kind == core::MountKind::stud;
        painter.setBrush(stud ? QBrush(ink) : QBrush(colours.paper));
        draw_shape_of(painter, at, mount, *mount.size_mm * px, mount.length_mm * px);
        painter.setBrush(Qt::NoBrush);
        if (mount.part_mm) {
            painter.setPen(QPen(colours.skirt, scale.bold ? 2.0 : 1.2, Qt::DashLine));
            draw_slot(painter, at, mount.part_mm->x() * px, mount.part_mm->y() * px);
        }
        const bool slot = mount.shape == core::HoleShape::slot;
        half_along = (slot ? std::max(mount.length_mm, *mount.size_mm) : *mount.size_mm) * px / 2.0 + k_cross_beyond;
        half_across = *mount.size_mm * px / 2.0 + k_cross_beyond;
        if (stud) {
            painter.setPen(QPen(colours.paper, 1.0));
            half_along -= k_cross_beyond;
            half_across -= k_cross_beyond;
        } else {
            painter.setPen(QPen(ink, 1.0));
        }
    }
    painter.drawLine(at - QPointF(half_along, 0.0), at + QPointF(half_along, 0.0));
    painter.drawLine(at - QPointF(0.0, half_across), at + QPointF(0.0, half_across));
    painter.restore();
}

}  // namespace sillwright::app
