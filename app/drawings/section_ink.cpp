#include "app/drawings/section_ink.h"

#include <algorithm>
#include <utility>

namespace sillwright::app {

namespace {

constexpr double k_tick = 7.0;
/// Nearer points than this are drawn as one, pixels: a third of a fine pen.
constexpr double k_same_point = 0.6;
/// What labels keep away from need not be known better than this, pixels.
constexpr double k_same_obstacle = 6.0;
constexpr double k_stale_opacity = 0.45;
constexpr double k_stands_out = 4.0;  ///< Broader than its pen.

bool of_results(SectionRole role) {
    return role == SectionRole::door || role == SectionRole::door_shut || role == SectionRole::door_limit;
}

QPolygonF thinned(const SectionLine& line, const SectionScale& scale, double least) {
    QPolygonF points;
    points.reserve(static_cast<int>(line.points_mm.size()) + 1);
    QPointF last;
    for (std::size_t i = 0; i < line.points_mm.size(); ++i) {
        const QPointF p = scale.on_sheet(line.points_mm[i]);
        const QPointF step = p - last;
        if (points.isEmpty() || i + 1 == line.points_mm.size() ||
            std::max(std::abs(step.x()), std::abs(step.y())) >= least) {
            points.push_back(p);
            last = p;
        }
    }
    if (line.closed && points.size() > 1) {
        points.push_back(points.front());
    }
    return points;
}

void ink_line(QPainter& painter, const SectionLine& line, const SectionScale& scale, const looks::Colours& colours) {
    const QPolygonF points = on_sheet(line, scale);
    if (points.size() < 2) {
        return;
    }
    painter.setBrush(Qt::NoBrush);
    if (line.closed && line.role == SectionRole::keep_out) {
        painter.setBrush(QBrush(colours.graphite, Qt::BDiagPattern));
    } else if (line.closed && line.role == SectionRole::door) {
        QColor wash = colours.door;
        wash.setAlphaF(0.08F);
        painter.setBrush(wash);
    }
    painter.setPen(pen_of(line.role, colours));
    if (line.closed) {
        painter.drawPolygon(points);
    } else {
        painter.drawPolyline(points);
    }
}

QPen pen_of_mark(SectionRole role, const looks::Colours& colours) {
    const double width = role == SectionRole::mount_axis ? 1.4 : role == SectionRole::skirt_drawn ? 2.4 : 1.6;
    return {QBrush(ink_of(role, colours)), width, Qt::SolidLine, Qt::RoundCap};
}

/// The point at `share` of the way along a chain of two or more points.
QPointF along(const QPolygonF& points, double share) {
    double left = 0.0;
    for (qsizetype i = 1; i < points.size(); ++i) {
        left += share * QLineF(points[i - 1], points[i]).length();
    }
    for (qsizetype i = 1; i < points.size(); ++i) {
        const QLineF piece(points[i - 1], points[i]);
        if (piece.length() >= left && piece.length() > 0.0) {
            return piece.pointAt(left / piece.length());
        }
        left -= piece.length();
    }
    return points.back();
}

/// Where a line may have its name, the best place first.
std::vector<QPointF> places_along(const QPolygonF& points, const QRectF& field) {
    std::vector<QPointF> places;
    for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95, 0.28, 0.42, 0.58, 0.72}) {
        const QPointF place = along(points, share);
        if (field.contains(place)) {
            places.push_back(place);
        }
    }
    return places;
}

}  // namespace

QColor ink_of(SectionRole role, const looks::Colours& colours) {
    switch (role) {
        case SectionRole::door:
        case SectionRole::door_shut:
        case SectionRole::door_limit:
            return colours.door;
        case SectionRole::skirt_drawn:
        case SectionRole::skirt_inside:
        case SectionRole::skirt_outside:
        case SectionRole::neighbour:
        case SectionRole::set_back:
            return colours.skirt;
        case SectionRole::body:
        case SectionRole::mount_axis:
        case SectionRole::keep_out:
        case SectionRole::draft:
            break;
        case SectionRole::scan:
            return colours.pencil;
    }
    return colours.graphite;
}

QPen pen_of(SectionRole role, const looks::Colours& colours) {
    QPen pen(ink_of(role, colours), 2.4, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin);
    const auto broken = [&pen](double width, const QList<qreal>& pattern) {
        pen.setWidthF(width);
        pen.setDashPattern(pattern);
        pen.setCapStyle(Qt::FlatCap);
    };
    switch (role) {
        case SectionRole::body:
        case SectionRole::door:
            break;
        case SectionRole::door_shut:
            broken(1.6, {1.0, 3.0});
            break;
        case SectionRole::door_limit:
            broken(1.8, {6.0, 4.0});
            break;
        case SectionRole::skirt_drawn:
        case SectionRole::skirt_inside:
        case SectionRole::keep_out:
            pen.setWidthF(1.2);
            break;
        case SectionRole::neighbour: {
            QColor thin = colours.skirt;
            thin.setAlphaF(0.6F);
            pen.setColor(thin);
            pen.setWidthF(1.0);
            break;
        }
        case SectionRole::skirt_outside:
            pen.setWidthF(3.0);
            break;
        case SectionRole::mount_axis:
            broken(1.2, {10.0, 3.0, 2.0, 3.0});
            break;
        case SectionRole::scan:
            broken(2.0, {1.0, 1.5});
            break;
        case SectionRole::draft:
            pen.setWidthF(1.2);
            break;
        case SectionRole::set_back:
            broken(1.6, {8.0, 5.0});
            break;
    }
    return pen;
}

QPolygonF on_sheet(const SectionLine& line, const SectionScale& scale) {
    return thinned(line, scale, k_same_point);
}

std::vector<QLineF> mark_of(const SectionPoint& point, const SectionScale& scale) {
    const QPointF at = scale.on_sheet(point.at_mm);
    if (point.across.norm() > 0.0) {
        const double half_length = point.role == SectionRole::skirt_drawn ? k_tick : 0.6 * k_tick;
        const Eigen::Vector2d unit = point.across.normalized() * half_length;
        const QPointF half(unit.x(), -unit.y());
        return {QLineF(at - half, at + half)};
    }
    const QPointF right(k_tick, 0.0);
    const QPointF down(0.0, k_tick);
    return {QLineF(at - right, at + right), QLineF(at - down, at + down)};
}

void ink(QPainter& painter, const SectionPicture& picture, const SectionScale& scale, const looks::Colours& colours) {
    for (const SectionLine& line : picture.lines) {
        painter.setOpacity(picture.stale && of_results(line.role) ? k_stale_opacity : 1.0);
        ink_line(painter, line, scale, colours);
    }
    painter.setOpacity(1.0);
    for (const SectionPoint& point : picture.points) {
        painter.setPen(pen_of_mark(point.role, colours));
        for (const QLineF& line : mark_of(point, scale)) {
            painter.drawLine(line);
        }
    }
}

void ink_item(QPainter& painter, const SectionPicture& picture, const SectionScale& scale, const Item& item,
              const looks::Colours& colours) {
    if (!item) {
        return;
    }
    if (picture.under) {
        ink_item(painter, *picture.under, scale, item, colours);
    }
    painter.setBrush(Qt::NoBrush);
    for (const SectionLine& line : picture.lines) {
        if (line.item == item) {
            QPen pen = pen_of(line.role, colours);
            pen.setWidthF(pen.widthF() + k_stands_out);
            QColor colour = pen.color();
            colour.setAlphaF(0.5F);
            pen.setColor(colour);
            painter.setPen(pen);
            painter.drawPolyline(on_sheet(line, scale));
        }
    }
    for (const SectionPoint& point : picture.points) {
        if (point.item == item) {
            QPen pen = pen_of_mark(point.role, colours);
            pen.setWidthF(pen.widthF() + k_stands_out);
            painter.setPen(pen);
            for (const QLineF& line : mark_of(point, scale)) {
                painter.drawLine(line);
            }
        }
    }
}

SectionSurroundings surroundings_of(const SectionPicture& picture, const SectionScale& scale, const QRectF& field) {
    SectionSurroundings around;
    for (std::size_t i = 0; i < picture.points.size(); ++i) {
        const SectionPoint& point = picture.points[i];
        const std::vector<QLineF> mark = mark_of(point, scale);
        around.lines.insert(around.lines.end(), mark.begin(), mark.end());
        const QPointF at = scale.on_sheet(point.at_mm);
        if (!point.name.empty() && field.contains(at)) {
            const QString text = QString::fromStdString(point.name);
            around.labels.push_back(
                {QStringLiteral("%1 %2").arg(static_cast<int>(point.role)).arg(text.section('\n', 0, 0)),
                 text,
                 {at},
                 point.role});
        }
    }
    for (const SectionLine& line : picture.lines) {
        const QPolygonF points = thinned(line, scale, k_same_obstacle);
        for (qsizetype i = 1; i < points.size(); ++i) {
            around.lines.emplace_back(points[i - 1], points[i]);
        }
        if (line.name.empty() || points.size() < 2) {
            continue;
        }
        std::vector<QPointF> places = places_along(points, field);
        if (!places.empty()) {
            const QString text = QString::fromStdString(line.name);
            const QString key = QString::fromStdString(line.item ? line.item.id : line.name);
            around.labels.push_back({QStringLiteral("line %1 %2").arg(static_cast<int>(line.role)).arg(key), text,
                                     std::move(places), line.role});
        }
    }
    return around;
}

}  // namespace sillwright::app
