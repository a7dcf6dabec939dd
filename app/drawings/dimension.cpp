#include "app/drawings/dimension.h"

#include <QFontMetricsF>
#include <algorithm>
#include <cmath>

#include "app/drawings/label_layout.h"

namespace sillwright::app {

namespace {

constexpr double k_least_px = 24.0;  ///< Shorter on the sheet it would hide what it measures.
constexpr double k_witness_gap = 5.0;
constexpr double k_witness_beyond = 5.0;
constexpr double k_tick = 5.0;
constexpr double k_air = 3.0;

/// The number stands beside the line's middle, on the far side.
QRectF text_box(const QPointF& middle, const QPointF& away, const QSizeF& size) {
    const double reach = 0.5 * (std::abs(away.x()) * size.width() + std::abs(away.y()) * size.height()) + k_air;
    const QPointF centre = middle + reach * away;
    return {centre.x() - 0.5 * size.width(), centre.y() - 0.5 * size.height(), size.width(), size.height()};
}

bool is_free(const QRectF& box, const QRectF& field, const std::vector<QLineF>& lines,
             const std::vector<QRectF>& taken) {
    return field.contains(box) &&
           std::none_of(lines.begin(), lines.end(), [&](const QLineF& line) { return crosses(line, box); }) &&
           std::none_of(taken.begin(), taken.end(), [&](const QRectF& other) { return other.intersects(box); });
}

}  // namespace

std::optional<DimensionPlace> place_dimension(const SectionDimension& dimension, const SectionScale& scale,
                                              const QRectF& field, const std::vector<QLineF>& lines,
                                              const std::vector<QRectF>& taken) {
    const QPointF from = scale.on_sheet(dimension.from_mm);
    const QPointF to = scale.on_sheet(dimension.to_mm);
    if (QLineF(from, to).length() < k_least_px) {
        return std::nullopt;
    }
    const Eigen::Vector2d unit = dimension.away.normalized();
    const QPointF away(unit.x(), -unit.y());
    const QFontMetricsF metrics(looks::font(looks::k_text));
    const QSizeF size = metrics.size(0, QString::fromStdString(dimension.words));
    for (const double distance : {28.0, 40.0, 54.0, 70.0, 90.0, 112.0}) {
        const QLineF line(from + distance * away, to + distance * away);
        const QRectF text = text_box(line.center(), away, size);
        if (is_free(text, field, lines, taken) && field.contains(line.p1()) && field.contains(line.p2())) {
            const QPointF beyond = (distance + k_witness_beyond) * away;
            return DimensionPlace{line, QLineF(from + k_witness_gap * away, from + beyond),
                                  QLineF(to + k_witness_gap * away, to + beyond), text};
        }
    }
    return std::nullopt;
}

void draw_dimension(QPainter& painter, const SectionDimension& dimension, const DimensionPlace& place,
                    const looks::Colours& colours) {
    painter.setPen(QPen(colours.pencil, 1.0));
    painter.drawLines({place.line, place.from_witness, place.to_witness});
    const QLineF unit = place.line.unitVector();
    const QPointF slant = k_tick * QPointF(unit.dx() - unit.dy(), unit.dy() + unit.dx()) / std::sqrt(2.0);
    painter.setPen(QPen(colours.pencil, 1.8));
    painter.drawLine(place.line.p1() - slant, place.line.p1() + slant);
    painter.drawLine(place.line.p2() - slant, place.line.p2() + slant);
    painter.setPen(colours.graphite);
    painter.setFont(looks::font(looks::k_text));
    painter.drawText(place.text, Qt::AlignCenter | Qt::TextDontClip, QString::fromStdString(dimension.words));
}

}  // namespace sillwright::app
