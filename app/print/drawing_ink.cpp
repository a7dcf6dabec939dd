#include "app/print/drawing_ink.h"

#include <QFontMetricsF>
#include <QPen>
#include <QPolygonF>
#include <algorithm>
#include <cmath>
#include <variant>
#include <vector>

#include "app/looks.h"
#include "app/print/page_words.h"
#include "app/text_of.h"

namespace sillwright::app::print {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using geometry::in_mm;
using geometry::in_rad;

namespace {

/// No printer shows less.
constexpr double k_chord_mm = 0.002;
/// Font metrics are read at this height, where they are exact.
constexpr int k_measured_px = 1000;
constexpr double k_cut_times = 2.5;
constexpr double k_drill_times = 2.0;
const QColor k_drill_colour(0x00, 0x3B, 0x8E);

std::vector<Vector2d> arc_points(const geometry::DrawnArc& arc) {
    const double radius = in_mm(arc.radius);
    const double step = 2.0 * std::acos(std::max(0.0, 1.0 - k_chord_mm / std::max(radius, k_chord_mm)));
    const int parts = std::max(1, static_cast<int>(std::ceil(std::abs(in_rad(arc.sweep)) / step)));
    std::vector<Vector2d> points;
    for (int i = 0; i <= parts; ++i) {
        const double angle = in_rad(arc.start) + in_rad(arc.sweep) * i / parts;
        points.emplace_back(arc.centre_mm + radius * Vector2d(std::cos(angle), std::sin(angle)));
    }
    return points;
}

std::vector<Vector2d> chain_points(const geometry::DrawnChain& chain) {
    std::vector<Vector2d> points;
    const std::size_t count = chain.vertices.size();
    for (std::size_t i = 0; i < count; ++i) {
        points.push_back(chain.vertices[i].p_mm);
        const bool goes_on = i + 1 < count || chain.closed;
        const Vector2d& next = chain.vertices[(i + 1) % count].p_mm;
        if (goes_on && chain.vertices[i].bulge != 0.0) {
            const auto arc = arc_points(geometry::arc_of_bulge(chain.vertices[i].p_mm, next, chain.vertices[i].bulge));
            points.insert(points.end(), arc.begin() + 1, arc.end() - 1);
        }
    }
    if (chain.closed && count > 0) {
        points.push_back(chain.vertices.front().p_mm);
    }
    return points;
}

/// Points of all that is no writing.
struct PointsOf {
    std::vector<Vector2d> operator()(const geometry::DrawnLine& line) const { return {line.from_mm, line.to_mm}; }
    std::vector<Vector2d> operator()(const geometry::DrawnArc& arc) const { return arc_points(arc); }
    std::vector<Vector2d> operator()(const geometry::DrawnCircle& circle) const {
        return arc_points({circle.centre_mm, circle.radius, {}, geometry::degrees(360.0)});
    }
    std::vector<Vector2d> operator()(const geometry::DrawnChain& chain) const { return chain_points(chain); }
    std::vector<Vector2d> operator()(const geometry::DrawnText&) const { return {}; }
    std::vector<Vector2d> operator()(const geometry::DrawnPoint& point) const { return {point.at_mm}; }
};

/// Width of a text whose capitals are 1 high, and the font's pixels for that.
struct TextSize {
    double width = 0.0, pixels = 1.0, below = 0.0;
};
TextSize size_of(const QString& words) {
    QFont font;
    font.setPixelSize(k_measured_px);
    font.setHintingPreference(QFont::PreferNoHinting);
    const QFontMetricsF metrics(font);
    const double capitals = metrics.capHeight();
    return {metrics.horizontalAdvance(words) / capitals, k_measured_px / capitals, metrics.descent() / capitals};
}

/// Corners of the box of a text, turned as it is.
std::vector<Vector2d> text_corners(const geometry::DrawnText& text) {
    const TextSize size = size_of(text_of(text.words));
    const double height = in_mm(text.height);
    const double wide = size.width * height;
    const Eigen::Rotation2Dd turn(in_rad(text.turned));
    const Vector2d low =
        text.place == geometry::TextPlace::middle ? Vector2d(-wide / 2.0, -height / 2.0) : Vector2d(0.0, 0.0);
    std::vector<Vector2d> corners;
    for (const Vector2d& corner : {Vector2d(0.0, -size.below * height), Vector2d(wide, -size.below * height),
                                   Vector2d(wide, height), Vector2d(0.0, height)}) {
        corners.emplace_back(text.at_mm + turn * (low + corner));
    }
    return corners;
}

void draw_text(QPainter& painter, const geometry::DrawnText& text, const DrawingScale& scale) {
    const QString words = text_of(text.words);
    const TextSize size = size_of(words);
    const double height = in_mm(text.height) * scale.units_per_mm;
    QFont font;
    font.setPixelSize(std::max(1, static_cast<int>(std::lround(size.pixels * height))));
    font.setHintingPreference(QFont::PreferNoHinting);
    painter.save();
    painter.translate(scale.on_page(text.at_mm));
    painter.rotate(-geometry::in_deg(text.turned));
    painter.setFont(font);
    const QPointF base = text.place == geometry::TextPlace::middle
                             ? QPointF(-QFontMetricsF(font).horizontalAdvance(words) / 2.0, height / 2.0)
                             : QPointF();
    painter.drawText(base, words);
    painter.restore();
}

QPen pen_of(const std::string& layer, double line) {
    const QColor black = looks::colours(looks::Tone::light).graphite;
    if (layer.starts_with("CUT") || layer.starts_with("PATH")) {
        return QPen(Qt::black, k_cut_times * line);
    }
    if (layer == "DRILL") {
        return QPen(k_drill_colour, k_drill_times * line);
    }
    return QPen(black, line);
}

bool crosses(const Vector2d& from, const Vector2d& to, const AlignedBox2d& box) {
    // The part of the line that is inside each pair of sides.
    double low = 0.0;
    double high = 1.0;
    for (int k = 0; k < 2; ++k) {
        const double step = to[k] - from[k];
        if (step == 0.0) {
            if (from[k] < box.min()[k] || from[k] > box.max()[k]) {
                return false;
            }
            continue;
        }
        const double a = (box.min()[k] - from[k]) / step;
        const double b = (box.max()[k] - from[k]) / step;
        low = std::max(low, std::min(a, b));
        high = std::min(high, std::max(a, b));
    }
    return low <= high;
}

}  // namespace

AlignedBox2d drawn_box(const geometry::DrawnShape& shape) {
    AlignedBox2d box;
    const auto* text = std::get_if<geometry::DrawnText>(&shape);
    for (const Vector2d& p : text != nullptr ? text_corners(*text) : std::visit(PointsOf{}, shape)) {
        box.extend(p);
    }
    return box;
}

AlignedBox2d drawn_box(const geometry::Drawing& drawing) {
    AlignedBox2d box;
    for (const geometry::DrawnEntity& entity : drawing.entities) {
        const AlignedBox2d one = drawn_box(entity.shape);
        if (!one.isEmpty()) {
            box.extend(one);
        }
    }
    return box;
}

bool reaches_into(const geometry::DrawnShape& shape, const AlignedBox2d& box) {
    const auto points = std::visit(PointsOf{}, shape);
    if (points.size() == 1) {
        return box.contains(points.front());
    }
    for (std::size_t i = 1; i < points.size(); ++i) {
        if (crosses(points[i - 1], points[i], box)) {
            return true;
        }
    }
    return false;
}

void draw_drawing(QPainter& painter, const geometry::Drawing& drawing, const DrawingScale& scale, double line,
                  const AlignedBox2d* only) {
    painter.save();
    painter.setBrush(Qt::NoBrush);
    for (const geometry::DrawnEntity& entity : drawing.entities) {
        if (only != nullptr && !drawn_box(entity.shape).intersects(*only)) {
            continue;
        }
        painter.setPen(pen_of(entity.layer, line));
        if (const auto* text = std::get_if<geometry::DrawnText>(&entity.shape)) {
            draw_text(painter, *text, scale);
            continue;
        }
        QPolygonF points;
        for (const Vector2d& p : std::visit(PointsOf{}, entity.shape)) {
            points << scale.on_page(p);
        }
        if (points.size() == 1) {
            painter.drawEllipse(points.front(), 2.0 * line, 2.0 * line);
        } else {
            painter.drawPolyline(points);
        }
    }
    painter.restore();
}

}  // namespace sillwright::app::print
