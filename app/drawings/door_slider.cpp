#include "app/drawings/door_slider.h"

#include <QMouseEvent>
#include <QPainter>
#include <QSignalBlocker>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>

#include "app/drawings/angle_text.h"
#include "app/looks.h"

namespace sillwright::app {

using geometry::Angle;
using geometry::degrees;
using geometry::in_deg;

namespace {

constexpr double k_steps = 10.0;  ///< Of the slider, to a degree.
constexpr double k_handle = 30.0;
constexpr double k_groove = 8.0;
constexpr double k_mark = 16.0;
constexpr double k_least_touch = 4.0;  ///< Width of a touching mark, so that one angle alone is seen.
constexpr double k_notch = 120.0;      ///< Of a wheel: 15 degrees in eighths (Qt's documentation of QWheelEvent).
constexpr Angle k_wheel_step = degrees(0.5);

}  // namespace

DoorSlider::DoorSlider(QWidget* parent) : QSlider(Qt::Horizontal, parent) {
    setMinimumHeight(minimumSizeHint().height());
    setSingleStep(static_cast<int>(0.5 * k_steps));
    setPageStep(static_cast<int>(5.0 * k_steps));
    setFocusPolicy(Qt::StrongFocus);
    connect(this, &QSlider::valueChanged, this, [this](int value) { turn_by_hand(degrees(value / k_steps)); });
}

void DoorSlider::set_opening(Angle opening) {
    const QSignalBlocker quiet(this);
    opening_ = opening;
    setRange(0, static_cast<int>(std::ceil(in_deg(opening) * k_steps)));
    show_angle(std::min(angle_, opening_));
}

void DoorSlider::set_marks(const DoorMarks& marks) {
    marks_ = marks;
    setToolTip(marks_.worst ? tr("The mark stands where the gap is worst, at %1: press it to go there.")
                                  .arg(angle_text(marks_.worst->at))
                            : QString());
    update();
}

void DoorSlider::show_angle(Angle angle) {
    const QSignalBlocker quiet(this);
    angle_ = angle;
    setValue(static_cast<int>(std::lround(in_deg(angle) * k_steps)));
    update();
}

void DoorSlider::turn_by_hand(Angle angle) {
    show_angle(std::clamp(angle, Angle{}, opening_));
    emit turned(angle_);
}

double DoorSlider::x_of(Angle angle) const {
    const double room = width() - k_handle;
    const double part = opening_ > Angle{} ? angle / opening_ : 0.0;
    return k_handle / 2 + room * std::clamp(part, 0.0, 1.0);
}

Angle DoorSlider::angle_at(double x) const {
    const double room = std::max(1.0, width() - k_handle);
    const double part = std::clamp((x - k_handle / 2) / room, 0.0, 1.0);
    return degrees(std::round(in_deg(opening_) * part * k_steps) / k_steps);
}

bool DoorSlider::on_worst(const QPointF& point) const {
    const double reach = point.y() < height() - k_handle ? looks::k_target / 2.0 : k_mark / 2.0;
    return marks_.worst && marks_.worst->at >= Angle{} && marks_.worst->at <= opening_ &&
           std::abs(point.x() - x_of(marks_.worst->at)) <= reach;
}

void DoorSlider::paintEvent(QPaintEvent* /*event*/) {
    const looks::Tone tone = looks::tone_of(palette());
    const looks::Colours& colours = looks::colours(tone);
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const double y = height() - k_handle / 2 - 2;
    const QRectF groove(k_handle / 2 - k_groove / 2, y - k_groove / 2, width() - k_handle + k_groove, k_groove);
    painter.setPen(QPen(colours.pencil, 1));
    painter.setBrush(colours.edge);
    painter.drawRoundedRect(groove, k_groove / 2, k_groove / 2);

    for (const core::AngleRange& range : marks_.touching) {
        const double from = x_of(range.from);
        const double to = std::max(x_of(range.to), from + k_least_touch);
        const QRectF touch(from, groove.top() - 3, to - from, groove.height() + 6);
        painter.fillRect(touch, colours.paper);
        painter.fillRect(touch, QBrush(looks::shape_colour(core::State::falls_short, tone), Qt::BDiagPattern));
        painter.setPen(QPen(looks::shape_colour(core::State::falls_short, tone), 1.5));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(touch);
    }
    const QPointF middle(x_of(angle_), y);
    painter.setPen(hasFocus() ? QPen(colours.graphite, 3) : QPen(colours.paper, 2));
    painter.setBrush(isEnabled() ? colours.door : colours.edge);
    painter.drawEllipse(middle, k_handle / 2 - 2, k_handle / 2 - 2);

    if (marks_.worst && marks_.worst->at >= Angle{} && marks_.worst->at <= opening_) {
        const double x = x_of(marks_.worst->at);
        painter.setPen(QPen(colours.graphite, 1.5));
        painter.drawLine(QPointF(x, k_mark), QPointF(x, groove.top() - 1));
        looks::draw_shape(painter, QRectF(x - k_mark / 2, 1, k_mark, k_mark), marks_.worst->state, tone);
    }
}

void DoorSlider::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) {
        return;
    }
    if (on_worst(event->position())) {
        turn_by_hand(marks_.worst->at);
    } else {
        setSliderDown(true);
        turn_by_hand(angle_at(event->position().x()));
    }
}

void DoorSlider::mouseMoveEvent(QMouseEvent* event) {
    if (isSliderDown()) {
        turn_by_hand(angle_at(event->position().x()));
    }
}

void DoorSlider::mouseReleaseEvent(QMouseEvent* /*event*/) {
    setSliderDown(false);
}

void DoorSlider::wheelEvent(QWheelEvent* event) {
    turn_by_hand(angle_ + k_wheel_step * (event->angleDelta().y() / k_notch));
    event->accept();
}

void DoorSlider::changeEvent(QEvent* event) {
    QSlider::changeEvent(event);
    update();
}

}  // namespace sillwright::app
