#include "app/drawings/section_drawing.h"

#include <Eigen/Geometry>
#include <QFontMetricsF>
#include <QTextOption>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/drawings/label_layout.h"
#include "app/looks.h"

namespace sillwright::app {

namespace {

constexpr double k_left_ruler = 56.0;
constexpr double k_bottom_ruler = 36.0;
constexpr double k_heading = 44.0;
/// Free space round the picture, for names beside its outermost lines.
constexpr double k_margin = 48.0;
constexpr double k_least_label_gap = 70.0;  ///< Between two numbers of a ruler.
constexpr int k_text = 16;
constexpr int k_small_text = 14;
constexpr double k_tick = 7.0;

using Points = std::vector<QPointF>;

QColor colour(SectionRole role) {
    switch (role) {
        case SectionRole::door:
        case SectionRole::door_limit:
            return looks::colours(looks::Tone::light).door;
        case SectionRole::skirt_drawn:
        case SectionRole::skirt_inside:
        case SectionRole::skirt_outside:
            return looks::colours(looks::Tone::light).skirt;
        case SectionRole::body:
        case SectionRole::mount_axis:
        case SectionRole::keep_out:
            break;
    }
    return looks::colours(looks::Tone::light).graphite;
}

QPen pen(SectionRole role) {
    QPen pen(colour(role), 2.4, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin);
    switch (role) {
        case SectionRole::body:
        case SectionRole::door:
            break;
        case SectionRole::door_limit:
            pen.setWidthF(1.8);
            pen.setDashPattern({6.0, 4.0});
            pen.setCapStyle(Qt::FlatCap);
            break;
        case SectionRole::skirt_drawn:
        case SectionRole::skirt_inside:
        case SectionRole::keep_out:
            pen.setWidthF(1.2);
            break;
        case SectionRole::skirt_outside:
            pen.setWidthF(3.0);
            break;
        case SectionRole::mount_axis:
            pen.setWidthF(1.2);
            pen.setDashPattern({10.0, 3.0, 2.0, 3.0});
            pen.setCapStyle(Qt::FlatCap);
            break;
    }
    return pen;
}

/// The round number of millimetres, 1, 2 or 5 with noughts, that is at least `least_px` long.
double round_step_mm(double least_px, double pixels_per_mm) {
    const double least_mm = least_px / pixels_per_mm;
    const double decade = std::pow(10.0, std::floor(std::log10(least_mm)));
    for (const double factor : {1.0, 2.0, 5.0}) {
        if (factor * decade >= least_mm) {
            return factor * decade;
        }
    }
    return 10.0 * decade;
}

QString number(double value_mm) {
    // Zero without a sign; a step below a millimetre needs its decimals.
    return QString::number(value_mm == 0.0 ? 0.0 : value_mm, 'g', 6).replace('-', QChar(0x2212));
}

Points on_sheet(const SectionLine& line, const SectionScale& scale) {
    Points points;
    points.reserve(line.points_mm.size() + 1);
    for (const Eigen::Vector2d& p_mm : line.points_mm) {
        points.push_back(scale.on_sheet(p_mm));
    }
    if (line.closed && points.size() > 1) {
        points.push_back(points.front());
    }
    return points;
}

/// The point at `share` of the way along a chain of two or more points.
QPointF along(const Points& points, double share) {
    double left = 0.0;
    for (std::size_t i = 1; i < points.size(); ++i) {
        left += share * QLineF(points[i - 1], points[i]).length();
    }
    for (std::size_t i = 1; i < points.size(); ++i) {
        const QLineF piece(points[i - 1], points[i]);
        if (piece.length() >= left && piece.length() > 0.0) {
            return piece.pointAt(left / piece.length());
        }
        left -= piece.length();
    }
    return points.back();
}

/// Where a line may have its name, the best place first.
Points places_along(const Points& points) {
    Points places;
    for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95, 0.28, 0.42, 0.58, 0.72}) {
        places.push_back(along(points, share));
    }
    return places;
}

/// The tick or cross of a point, as lines on the sheet.
std::vector<QLineF> mark(const SectionPoint& point, const SectionScale& scale) {
    const QPointF at = scale.on_sheet(point.at_mm);
    if (point.across.norm() > 0.0) {
        const Eigen::Vector2d unit = point.across.normalized() * k_tick;
        const QPointF half(unit.x(), -unit.y());
        return {QLineF(at - half, at + half)};
    }
    const QPointF right(k_tick, 0.0);
    const QPointF down(0.0, k_tick);
    return {QLineF(at - right, at + right), QLineF(at - down, at + down)};
}

/// Draws and remembers everything that a name must not stand on.
class Sheet {
public:
    Sheet(QPainter& painter, const QRectF& sheet, const SectionPicture& picture)
        : painter_{painter},
          picture_{picture},
          sheet_{sheet},
          paper_{sheet.adjusted(k_left_ruler, 0.0, 0.0, -k_bottom_ruler)},
          scale_{fit(picture, paper_.adjusted(k_margin, k_heading, -k_margin, -k_margin))} {}

    void draw() {
        painter_.save();
        painter_.setRenderHint(QPainter::Antialiasing);
        painter_.fillRect(sheet_, looks::colours(looks::Tone::light).paper);
        draw_heading();
        draw_rulers();
        draw_scale_bar();
        painter_.setClipRect(drawn_on());
        for (const SectionLine& line : picture_.lines) {
            draw_line(line);
        }
        for (const SectionPoint& point : picture_.points) {
            draw_mark(point);
        }
        draw_names();
        painter_.restore();
    }

private:
    /// Where lines are drawn: a door that goes on above is cut off below the heading.
    [[nodiscard]] QRectF drawn_on() const { return paper_.adjusted(0.0, k_heading - 4.0, 0.0, 0.0); }

    void draw_heading() {
        const QRectF band = paper_.adjusted(16.0, 8.0, -16.0, 0.0);
        painter_.setPen(looks::colours(looks::Tone::light).graphite);
        painter_.setFont(looks::font(k_text));
        painter_.drawText(band, Qt::AlignLeft | Qt::AlignTop, QString::fromStdString(picture_.title));
        painter_.setPen(looks::colours(looks::Tone::light).pencil);
        const QString frame = QStringLiteral("up ↑   out →");
        painter_.drawText(band, Qt::AlignRight | Qt::AlignTop, frame);
        const double height = QFontMetricsF(painter_.font()).height();
        kept_free_.emplace_back(band.left(), band.top(), band.width(), height);
    }

    void draw_rulers() {
        const double step_mm = round_step_mm(k_least_label_gap, scale_.pixels_per_mm);
        painter_.setPen(QPen(looks::colours(looks::Tone::light).edge, 1.0));
        painter_.drawLine(paper_.topLeft(), paper_.bottomLeft());
        painter_.drawLine(paper_.bottomLeft(), paper_.bottomRight());
        painter_.setFont(looks::font(k_small_text));
        painter_.setPen(QPen(looks::colours(looks::Tone::light).pencil, 1.0));
        draw_out_ruler(step_mm);
        draw_up_ruler(step_mm);
    }

    void draw_out_ruler(double step_mm) {
        const double y = paper_.bottom();
        const double minor_px = step_mm * scale_.pixels_per_mm / 5.0;
        const auto first = std::ceil((paper_.left() - scale_.origin.x()) / minor_px);
        const auto last = std::floor((paper_.right() - scale_.origin.x()) / minor_px);
        for (double i = first; i <= last; i += 1.0) {
            const bool major = std::fmod(i, 5.0) == 0.0;
            const double x = scale_.origin.x() + i * minor_px;
            painter_.drawLine(QPointF(x, y), QPointF(x, y + (major ? 10.0 : 5.0)));
            const QRectF box(x - 40.0, y + 11.0, 80.0, 22.0);
            if (major && box.right() - 20.0 < sheet_.right() && box.left() + 20.0 > paper_.left()) {
                painter_.drawText(box, Qt::AlignHCenter | Qt::AlignVCenter, number(i / 5.0 * step_mm));
            }
        }
    }

    void draw_up_ruler(double step_mm) {
        const double x = paper_.left();
        const double minor_px = step_mm * scale_.pixels_per_mm / 5.0;
        const auto first = std::ceil((scale_.origin.y() - paper_.bottom()) / minor_px);
        const auto last = std::floor((scale_.origin.y() - paper_.top()) / minor_px);
        for (double i = first; i <= last; i += 1.0) {
            const bool major = std::fmod(i, 5.0) == 0.0;
            const double y = scale_.origin.y() - i * minor_px;
            painter_.drawLine(QPointF(x - (major ? 10.0 : 5.0), y), QPointF(x, y));
            const QRectF box(x - 54.0, y - 11.0, 42.0, 22.0);
            if (major && box.top() > sheet_.top() && box.bottom() < sheet_.bottom()) {
                painter_.drawText(box, Qt::AlignRight | Qt::AlignVCenter, number(i / 5.0 * step_mm));
            }
        }
    }

    void draw_scale_bar() {
        const double length_mm = round_step_mm(90.0, scale_.pixels_per_mm);
        const double length_px = length_mm * scale_.pixels_per_mm;
        const QPointF from(paper_.left() + 16.0, paper_.bottom() - 14.0);
        painter_.setPen(QPen(looks::colours(looks::Tone::light).graphite, 2.4, Qt::SolidLine, Qt::FlatCap));
        painter_.drawLine(from, from + QPointF(length_px, 0.0));
        painter_.setFont(looks::font(k_small_text));
        painter_.setPen(looks::colours(looks::Tone::light).pencil);
        const QString text = number(length_mm) + QStringLiteral(" mm on the paper");
        const QFontMetricsF metrics(painter_.font());
        painter_.drawText(from + QPointF(0.0, -8.0), text);
        kept_free_.emplace_back(from.x(), from.y() - 8.0 - metrics.ascent(),
                                std::max(length_px, metrics.horizontalAdvance(text)), metrics.height() + 10.0);
    }

    void draw_line(const SectionLine& line) {
        const Points points = on_sheet(line, scale_);
        if (points.size() < 2) {
            return;
        }
        painter_.setBrush(Qt::NoBrush);
        if (line.closed && line.role == SectionRole::keep_out) {
            painter_.setBrush(QBrush(looks::colours(looks::Tone::light).graphite, Qt::BDiagPattern));
        } else if (line.closed && line.role == SectionRole::door) {
            QColor wash = looks::colours(looks::Tone::light).door;
            wash.setAlphaF(0.08F);
            painter_.setBrush(wash);
        }
        painter_.setPen(pen(line.role));
        const auto count = static_cast<int>(points.size());
        if (line.closed) {
            painter_.drawPolygon(points.data(), count);
        } else {
            painter_.drawPolyline(points.data(), count);
        }
        for (std::size_t i = 1; i < points.size(); ++i) {
            drawn_.emplace_back(points[i - 1], points[i]);
        }
        if (!line.name.empty()) {
            Points places = places_along(points);
            std::erase_if(places, [&](const QPointF& place) { return !drawn_on().contains(place); });
            if (!places.empty()) {
                line_wishes_.push_back({line.name, std::move(places), line.role});
            }
        }
    }

    void draw_mark(const SectionPoint& point) {
        painter_.setPen(
            QPen(colour(point.role), point.role == SectionRole::mount_axis ? 1.4 : 2.4, Qt::SolidLine, Qt::RoundCap));
        for (const QLineF& line : mark(point, scale_)) {
            painter_.drawLine(line);
            drawn_.push_back(line);
        }
        if (!point.name.empty()) {
            wish(point.name, {scale_.on_sheet(point.at_mm)}, point.role);
        }
    }

    void wish(const std::string& name, const Points& at, SectionRole role) {
        const QString text = QString::fromStdString(name);
        const QFontMetricsF metrics(looks::font(k_text));
        wishes_.push_back({at, QSizeF(metrics.horizontalAdvance(text), metrics.height())});
        names_.emplace_back(text, role);
    }

    void draw_names() {
        // Points first: a line can be named anywhere along it.
        for (const LineWish& line : line_wishes_) {
            wish(line.name, line.at, line.role);
        }
        std::vector<QLineF> obstacles = drawn_;
        for (const QRectF& box : kept_free_) {
            obstacles.insert(obstacles.end(),
                             {QLineF(box.topLeft(), box.topRight()), QLineF(box.bottomLeft(), box.bottomRight()),
                              QLineF(box.left(), box.center().y(), box.right(), box.center().y())});
        }
        const std::vector<LabelPlace> places = place_labels(wishes_, obstacles, drawn_on());
        painter_.setFont(looks::font(k_text));
        for (std::size_t i = 0; i < places.size(); ++i) {
            const LabelPlace& place = places[i];
            painter_.setPen(QPen(colour(names_[i].second), 0.8));
            if (place.far) {
                painter_.drawLine(leader(place.box, place.at));
            }
            painter_.drawText(place.box, Qt::AlignCenter | Qt::TextDontClip, names_[i].first);
        }
    }

    struct LineWish {
        std::string name;
        Points at;
        SectionRole role;
    };

    QPainter& painter_;
    const SectionPicture& picture_;
    QRectF sheet_;
    QRectF paper_;
    SectionScale scale_;
    std::vector<QLineF> drawn_;
    std::vector<QRectF> kept_free_;
    std::vector<LineWish> line_wishes_;
    std::vector<LabelWish> wishes_;
    std::vector<std::pair<QString, SectionRole>> names_;
};

}  // namespace

namespace {

/// A door reaches far up, but what matters is its lower edge.
constexpr double k_door_shown_mm = 30.0;

bool of_a_door(const SectionLine& line) {
    return line.role == SectionRole::door || line.role == SectionRole::door_limit;
}

/// All that stands still, and of the doors what is not far beyond it.
Eigen::AlignedBox2d extent_of(const SectionPicture& picture) {
    Eigen::AlignedBox2d still;
    Eigen::AlignedBox2d doors;
    for (const SectionLine& line : picture.lines) {
        for (const Eigen::Vector2d& p_mm : line.points_mm) {
            (of_a_door(line) ? doors : still).extend(p_mm);
        }
    }
    for (const SectionPoint& point : picture.points) {
        still.extend(point.at_mm);
    }
    if (still.isEmpty() || doors.isEmpty()) {
        return still.merged(doors);
    }
    const Eigen::Vector2d beyond = Eigen::Vector2d::Constant(k_door_shown_mm);
    const Eigen::AlignedBox2d near(still.min() - beyond, still.max() + beyond);
    return near.intersects(doors) ? still.merged(near.intersection(doors)) : still.merged(doors);
}

}  // namespace

SectionScale fit(const SectionPicture& picture, const QRectF& field) {
    const Eigen::AlignedBox2d extent = extent_of(picture);
    SectionScale scale;
    if (extent.isEmpty()) {
        scale.origin = field.center();
        return scale;
    }
    const Eigen::Vector2d size = extent.sizes();
    if (size.maxCoeff() > 0.0) {
        // A side without extent divides to infinity and so does not decide.
        scale.pixels_per_mm = std::min(field.width() / size.x(), field.height() / size.y());
    }
    const Eigen::Vector2d middle = extent.center();
    scale.origin = QPointF(field.center().x() - scale.pixels_per_mm * middle.x(),
                           field.center().y() + scale.pixels_per_mm * middle.y());
    return scale;
}

void draw_section(QPainter& painter, const QRectF& sheet, const SectionPicture& picture) {
    Sheet(painter, sheet, picture).draw();
}

SectionDrawing::SectionDrawing(QWidget* parent) : QWidget(parent) {
    setObjectName(QStringLiteral("sectionDrawing"));
    setAccessibleName(tr("Section at a station"));
}

void SectionDrawing::show_section(SectionPicture picture) {
    picture_ = std::move(picture);
    sentence_.clear();
    setAccessibleDescription(QString::fromStdString(picture_.title));
    update();
}

void SectionDrawing::show_sentence(const QString& sentence) {
    picture_ = {};
    sentence_ = sentence;
    setAccessibleDescription(sentence_);
    update();
}

void SectionDrawing::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    if (sentence_.isEmpty()) {
        draw_section(painter, rect(), picture_);
        return;
    }
    painter.fillRect(rect(), looks::colours(looks::Tone::light).paper);
    painter.setPen(looks::colours(looks::Tone::light).graphite);
    painter.setFont(looks::font(k_text));
    QTextOption option(Qt::AlignCenter);
    option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);  // a path may be one long word
    painter.drawText(QRectF(rect()).adjusted(40, 40, -40, -40), sentence_, option);
}

}  // namespace sillwright::app
