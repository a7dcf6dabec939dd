#include "app/drawings/arc_drawing.h"

#include <QFontMetricsF>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/drawings/label_layout.h"
#include "app/drawings/strip_scale.h"
#include "app/text_of.h"

namespace sillwright::app {

using Eigen::Vector2d;

namespace {

constexpr double k_edge = 14.0;
constexpr double k_row = 24.0;
constexpr double k_dot = 4.5;
constexpr double k_miss = 18.0;      ///< The largest miss, pixels at most.
constexpr double k_spare_deg = 6.0;  ///< An arc goes on so far past its last place.
constexpr double k_least_miss_mm = 1e-6;

struct Scale {
    QPointF axis;
    double pixels = 1.0;
    double misses = 1.0;
    [[nodiscard]] QPointF at(const Vector2d& p_mm) const { return axis + pixels * QPointF(p_mm.x(), p_mm.y()); }
};

Scale scale_of(const ArcPicture& picture, const QRectF& room) {
    Vector2d low = Vector2d::Zero();
    Vector2d high = Vector2d::Zero();
    double largest = 0.0;
    for (const TargetArc& target : picture.targets) {
        for (const ArcPlace& place : target.places) {
            low = low.cwiseMin(place.at_mm);
            high = high.cwiseMax(place.at_mm);
            largest = std::max(largest, place.miss_mm.norm());
        }
    }
    const Vector2d size = (high - low).cwiseMax(1.0);
    Scale scale;
    scale.pixels = std::min(room.width() / size.x(), room.height() / size.y());
    const Vector2d middle = 0.5 * (low + high);
    scale.axis = room.center() - scale.pixels * QPointF(middle.x(), middle.y());
    scale.misses = largest > k_least_miss_mm ? exaggerated(largest, scale.pixels, k_miss) : 1.0;
    return scale;
}

void draw_arc(QPainter& painter, const Scale& scale, const TargetArc& target) {
    double radius = 0.0;
    double from = 1e9;
    double to = -1e9;
    // Angles from the first place, so that an arc across the jump of atan2 stays one.
    const auto angle_of = [](const Vector2d& p_mm) { return std::atan2(p_mm.y(), p_mm.x()); };
    const double first = angle_of(target.places.front().at_mm);
    for (const ArcPlace& place : target.places) {
        radius += (place.at_mm + place.miss_mm).norm() / static_cast<double>(target.places.size());
        const double off = std::remainder(angle_of(place.at_mm) - first, 2.0 * std::numbers::pi);
        from = std::min(from, off);
        to = std::max(to, off);
    }
    const double degrees = 180.0 / std::numbers::pi;
    const double r = radius * scale.pixels;
    // Qt's angles run against the clock, in sixteenths of a degree; ours with it, as y runs down.
    const double start = -(first + to) * degrees - k_spare_deg;
    const double span = (to - from) * degrees + 2.0 * k_spare_deg;
    painter.drawArc(QRectF(scale.axis - QPointF(r, r), QSizeF(2.0 * r, 2.0 * r)), static_cast<int>(16.0 * start),
                    static_cast<int>(16.0 * span));
}

}  // namespace

ArcDrawing::ArcDrawing(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("arcDrawing"));
    setAccessibleName(tr("The targets' arcs about the hinge axis"));
}

void ArcDrawing::set_picture(ArcPicture picture) {
    if (picture == picture_) {
        return;
    }
    picture_ = std::move(picture);
    setAccessibleDescription(text_of(picture_.words));
    update();
}

QString ArcDrawing::title() const {
    return tr("hinge axis of %1").arg(text_of(picture_.door));
}

void ArcDrawing::draw(QPainter& painter, const QSizeF& sheet) const {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(QRectF({}, sheet), colours().paper);
    painter.setFont(looks::font(looks::k_text));
    const QRectF whole = QRectF({}, sheet).adjusted(k_edge, 6.0, -k_edge, -6.0);
    if (!picture_.axis || picture_.targets.empty()) {
        painter.setPen(colours().graphite);
        painter.drawText(whole, Qt::AlignLeft | Qt::AlignTop | Qt::TextWordWrap, text_of(picture_.words));
        painter.restore();
        return;
    }
    const QRectF room = whole.adjusted(30.0, k_row + 24.0, -30.0, -k_row - 24.0);
    const Scale scale = scale_of(picture_, room);
    painter.setPen(colours().pencil);
    painter.drawText(QRectF(whole.left(), whole.top(), whole.width(), k_row), Qt::AlignLeft | Qt::AlignVCenter,
                     tr("along the hinge axis, from above"));
    const QString foot = scale.misses > 1.0 ? tr("misses drawn %1 times larger").arg(scale.misses) : QString();
    painter.drawText(QRectF(whole.left(), whole.bottom() - k_row, whole.width(), k_row),
                     Qt::AlignLeft | Qt::AlignVCenter, foot);

    std::vector<LabelWish> wishes;
    std::vector<QString> words;
    std::vector<QLineF> lines;
    const QFontMetricsF metrics(painter.font());
    const auto wish = [&](const QPointF& at, const QString& text) {
        wishes.push_back({{at}, QSizeF(metrics.horizontalAdvance(text) + 2.0, k_row - 5.0), {}});
        words.push_back(text);
        lines.emplace_back(at - QPointF(k_dot, 0.0), at + QPointF(k_dot, 0.0));
    };
    painter.setPen(QPen(colours().graphite, 1.6));
    painter.drawEllipse(scale.axis, 5.0, 5.0);
    painter.drawLine(scale.axis - QPointF(9.0, 0.0), scale.axis + QPointF(9.0, 0.0));
    painter.drawLine(scale.axis - QPointF(0.0, 9.0), scale.axis + QPointF(0.0, 9.0));
    wish(scale.axis, tr("axis"));
    for (const TargetArc& target : picture_.targets) {
        if (target.places.empty()) {
            continue;
        }
        painter.setPen(QPen(colours().door, 1.4));
        painter.setBrush(Qt::NoBrush);
        draw_arc(painter, scale, target);
        bool first = true;
        for (const ArcPlace& place : target.places) {
            const QPointF at = scale.at(place.at_mm);
            painter.setPen(QPen(colours().door, 1.6));
            painter.setBrush(colours().paper);
            painter.drawEllipse(at, k_dot, k_dot);
            painter.setPen(
                QPen(place.suspect ? looks::shape_colour(core::State::falls_short, tone()) : colours().graphite,
                     place.suspect ? 4.0 : 2.0));
            const Vector2d miss = scale.pixels * scale.misses * place.miss_mm;
            painter.drawLine(at, at + QPointF(miss.x(), miss.y()));
            if (place.suspect) {
                looks::draw_shape(painter, QRectF(at + QPointF(6.0, -18.0), QSizeF(14.0, 14.0)),
                                  core::State::falls_short, tone());
            }
            const QString number = QString::number(place.opening);
            wish(at, first ? text_of(target.name) + QStringLiteral("/") + number : number);
            first = false;
        }
    }
    const std::vector<LabelPlace> places = place_labels(wishes, lines, whole);
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (places[i].far) {
            painter.setPen(QPen(colours().pencil, 0.8));
            painter.drawLine(leader(places[i].box, places[i].at));
        }
        painter.setPen(colours().graphite);
        painter.drawText(places[i].box, Qt::AlignCenter | Qt::TextDontClip, words[i]);
    }
    painter.restore();
}

}  // namespace sillwright::app
