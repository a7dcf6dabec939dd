#include "app/drawings/magnifier.h"

#include <QFontMetricsF>
#include <QLineF>
#include <QPainterPath>
#include <algorithm>
#include <cmath>
#include <limits>

#include "app/drawings/label_layout.h"
#include "app/drawings/section_ink.h"

namespace sillwright::app {

namespace {

constexpr double k_least_radius = 84.0;
constexpr double k_most_radius = 130.0;
constexpr double k_part_of_field = 0.2;  ///< Radius as part of the field's lesser side.
/// The gap takes this part of the radius, so that both sides of it are seen.
constexpr double k_gap_part = 0.35;
constexpr double k_least_larger = 2.0;
constexpr double k_most_larger = 40.0;
constexpr double k_step_px = 24.0;  ///< Between the places that are tried.
constexpr double k_least_spot = 10.0;
constexpr double k_air = 10.0;
/// Covering a line is as bad as standing this much further off, pixels.
constexpr double k_cost_of_line = 60.0;

double gap_mm(const SectionGap& gap) {
    return (gap.on_part_mm - gap.on_other_mm).norm();
}

QPointF middle(const SectionGap& gap, const SectionScale& scale) {
    return scale.on_sheet(0.5 * (gap.on_part_mm + gap.on_other_mm));
}

double larger_by(const SectionGap& gap, const SectionScale& scale, double radius) {
    const double gap_px = std::max(gap_mm(gap) * scale.pixels_per_mm, 1e-6);
    return std::clamp(k_gap_part * radius / gap_px, k_least_larger, k_most_larger);
}

double cost(const QRectF& box, const QPointF& gap, const std::vector<QLineF>& lines, const std::vector<QRectF>& taken) {
    const QRectF aired = box.adjusted(-k_air, -k_air, k_air, k_air);
    double sum = QLineF(box.center(), gap).length();
    for (const QRectF& other : taken) {
        sum += other.intersects(aired) ? 100.0 * k_cost_of_line : 0.0;
    }
    for (const QLineF& line : lines) {
        sum += crosses(line, aired) ? k_cost_of_line : 0.0;
    }
    return sum;
}

/// The runs of a line that may be seen in a box (out, up): a broken pen along all of a line that is
/// drawn forty times as large costs more than all the rest.
void add_runs(SectionPicture& seen, const SectionLine& line, const Eigen::Vector2d& low, const Eigen::Vector2d& high) {
    const std::size_t count = line.points_mm.size();
    const std::size_t straights = line.closed ? count : std::max<std::size_t>(count, 1) - 1;
    bool open = false;
    for (std::size_t i = 0; i < straights; ++i) {
        const Eigen::Vector2d& from = line.points_mm[i];
        const Eigen::Vector2d& to = line.points_mm[(i + 1) % count];
        const bool in =
            (from.cwiseMin(to).array() <= high.array()).all() && (from.cwiseMax(to).array() >= low.array()).all();
        if (in && !open) {
            seen.lines.push_back({line.role, {from}, false, "", {}});
        }
        if (in) {
            seen.lines.back().points_mm.push_back(to);
        }
        open = in;
    }
}

SectionPicture seen_in(const Magnifier& magnifier, const SectionPicture& picture) {
    const QRectF box = magnifier.box();
    const Eigen::Vector2d low = magnifier.scale.from_sheet(box.bottomLeft());
    const Eigen::Vector2d high = magnifier.scale.from_sheet(box.topRight());
    SectionPicture seen;
    for (const SectionPicture* layer : {picture.under.get(), &picture}) {
        if (layer != nullptr) {
            for (const SectionLine& line : layer->lines) {
                add_runs(seen, line, low, high);
            }
        }
    }
    return seen;
}

void draw_words(QPainter& painter, const Magnifier& magnifier, const SectionGap& gap, looks::Tone tone) {
    const looks::Colours& colours = looks::colours(tone);
    const QColor colour = gap.state ? looks::text_colour(*gap.state, tone) : colours.graphite;
    const QString number = QString::fromStdString(gap.number);
    const QFont large = looks::font(looks::k_number, true);
    const QFontMetricsF metrics(large);
    const double shape = gap.state ? metrics.height() : 0.0;
    QRectF box(0.0, 0.0, metrics.horizontalAdvance(number) + shape + 20.0, metrics.height() + 8.0);
    box.moveCenter(magnifier.centre - QPointF(0.0, 0.68 * magnifier.radius));
    painter.setPen(QPen(gap.state ? colour : colours.pencil, 1.2));
    painter.setBrush(colours.paper);
    painter.drawRoundedRect(box, 6.0, 6.0);
    if (gap.state) {
        looks::draw_shape(painter, QRectF(box.left() + 8.0, box.center().y() - 8.0, 16.0, 16.0), *gap.state, tone);
    }
    painter.setFont(large);
    painter.setPen(colour);
    painter.drawText(box.adjusted(shape, 0.0, 0.0, 0.0), Qt::AlignCenter, number);

    const QFont small = looks::font(looks::k_text);
    const QFontMetricsF lines(small);
    const QString words = QString::fromStdString(gap.words);
    const QSizeF size = lines.size(0, words);
    QRectF below(QPointF(), size + QSizeF(12.0, 4.0));
    below.moveCenter(magnifier.centre + QPointF(0.0, 0.62 * magnifier.radius));
    painter.setPen(Qt::NoPen);
    painter.drawRoundedRect(below, 4.0, 4.0);
    painter.setFont(small);
    painter.setPen(colours.graphite);
    painter.drawText(below, Qt::AlignCenter, words);
}

}  // namespace

Magnifier place_magnifier(const SectionGap& gap, const SectionScale& scale, const QRectF& field,
                          const std::vector<QLineF>& lines, const std::vector<QRectF>& taken) {
    Magnifier best;
    best.radius = std::clamp(k_part_of_field * std::min(field.width(), field.height()), k_least_radius, k_most_radius);
    const QRectF places =
        field.adjusted(best.radius + k_air, best.radius + k_air, -best.radius - k_air, -best.radius - k_air);
    best.scale.pixels_per_mm = scale.pixels_per_mm * larger_by(gap, scale, best.radius);
    const QPointF at = middle(gap, scale);
    best.centre = places.center();
    double least = std::numeric_limits<double>::infinity();
    for (double y = places.top(); y <= places.bottom(); y += k_step_px) {
        for (double x = places.left(); x <= places.right(); x += k_step_px) {
            Magnifier tried = best;
            tried.centre = QPointF(x, y);
            const double sum = cost(tried.box(), at, lines, taken);
            if (sum < least) {
                least = sum;
                best.centre = tried.centre;
            }
        }
    }
    return moved_to(best, gap);
}

double spot_radius(const Magnifier& magnifier, const SectionScale& scale) {
    return std::max(k_least_spot, magnifier.radius * scale.pixels_per_mm / magnifier.scale.pixels_per_mm);
}

Magnifier moved_to(Magnifier magnifier, const SectionGap& gap) {
    const Eigen::Vector2d middle_mm = 0.5 * (gap.on_part_mm + gap.on_other_mm);
    const double scale = magnifier.scale.pixels_per_mm;
    magnifier.scale.origin =
        QPointF(magnifier.centre.x() - scale * middle_mm.x(), magnifier.centre.y() + scale * middle_mm.y());
    return magnifier;
}

void draw_magnifier(QPainter& painter, const Magnifier& magnifier, const SectionPicture& picture,
                    const SectionScale& scale, looks::Tone tone) {
    if (!picture.gap) {
        return;
    }
    const looks::Colours& colours = looks::colours(tone);
    const SectionGap& gap = *picture.gap;
    const QPointF at = middle(gap, scale);
    const double around = spot_radius(magnifier, scale);
    painter.save();
    painter.setPen(QPen(colours.graphite, 1.2));
    painter.setBrush(Qt::NoBrush);
    painter.drawEllipse(at, around, around);
    QLineF joining(at, magnifier.centre);
    if (joining.length() > around + magnifier.radius) {
        painter.drawLine(joining.pointAt(around / joining.length()),
                         joining.pointAt(1.0 - magnifier.radius / joining.length()));
    }
    QPainterPath round;
    round.addEllipse(magnifier.centre, magnifier.radius, magnifier.radius);
    painter.setBrush(colours.paper);
    painter.drawPath(round);
    painter.setClipPath(round, Qt::IntersectClip);
    ink(painter, seen_in(magnifier, picture), magnifier.scale, colours);
    const QColor colour = gap.state ? looks::text_colour(*gap.state, tone) : colours.graphite;
    painter.setPen(QPen(colour, 2.4, Qt::SolidLine, Qt::RoundCap));
    const QPointF part = magnifier.scale.on_sheet(gap.on_part_mm);
    const QPointF other = magnifier.scale.on_sheet(gap.on_other_mm);
    painter.drawLine(part, other);
    painter.setBrush(colour);
    painter.drawEllipse(part, 3.0, 3.0);
    painter.drawEllipse(other, 3.0, 3.0);
    painter.setClipping(false);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(colours.graphite, 1.6));
    painter.drawEllipse(magnifier.centre, magnifier.radius, magnifier.radius);
    draw_words(painter, magnifier, gap, tone);
    painter.restore();
}

}  // namespace sillwright::app
