#include "app/drawings/clearance_plot.h"

#include <QFontMetricsF>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainterPath>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/text_of.h"
#include "core/finding_words.h"
#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::app {

using geometry::Angle;
using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

constexpr int k_small_text = 14;  ///< Of the axes' numbers.
constexpr double k_edge = 10.0;   ///< Between text and the sheet's edge.
constexpr double k_tick_room = 6.0;
constexpr double k_mark = 14.0;
constexpr double k_handle = 6.0;  ///< Radius of the knob at the head of the opening's line.
constexpr double k_pale = 0.4;
constexpr double k_least_field = 40.0;
/// With no gap asked for, this much of the clearance is worth seeing.
constexpr double k_usual_need_mm = 5.0;

double line_height(int pixels) {
    return QFontMetricsF(looks::font(pixels)).height();
}

double width_of(const QString& text, int pixels, bool bold = false) {
    return QFontMetricsF(looks::font(pixels, bold)).horizontalAdvance(text);
}

core::BareUnit shown_unit(core::BareUnit unit) {
    return unit == core::BareUnit::in ? unit : core::BareUnit::mm;
}

/// The least of 1, 2, 5, 10, 20, ... that `count` steps of reach `whole` or more.
double round_step(double whole, int count) {
    const double rough = whole / count;
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    for (const double part : {1.0, 2.0, 5.0}) {
        if (part * power >= rough) {
            return part * power;
        }
    }
    return 10.0 * power;
}

double least_mm(const ClearanceLine& line) {
    const auto least = std::min_element(line.points.begin(), line.points.end(),
                                        [](const auto& a, const auto& b) { return a.clearance < b.clearance; });
    return least == line.points.end() ? 0.0 : in_mm(least->clearance);
}

/// What is needed three times over; the least of all if that is more, or all there is if that is less.
/// What is further off than that nobody asks about: its least is named at the top.
Length top_of(const ClearancePicture& picture) {
    constexpr double k_times = 3.0;
    constexpr double k_air = 1.25;  // Above the lowest curve's least place, and above all there is.
    constexpr double k_above_need = 1.6;
    double need = 0.0;
    std::optional<double> nearest;
    double most = 0.0;
    for (const ClearanceMark& mark : picture.marks) {
        need = std::max(need, mark.needed ? in_mm(*mark.needed) : 0.0);
        nearest = std::min(nearest.value_or(in_mm(mark.least)), in_mm(mark.least));
    }
    need = need > 0.0 ? need : k_usual_need_mm;
    for (const ClearanceLine& line : picture.lines) {
        nearest = std::min(nearest.value_or(least_mm(line)), least_mm(line));
        for (const ClearanceAtAngle& point : line.points) {
            most = std::max(most, in_mm(point.clearance));
        }
    }
    const double least = std::max(k_above_need * need, k_air * nearest.value_or(0.0));
    const double top = std::max(k_times * need, least);
    return millimetres(most > 0.0 ? std::max(least, std::min(top, k_air * most)) : top);
}

struct Ticks {
    double step = 1.0;
    int decimals = 0;
};

/// Of the clearance, in the shown unit.
Ticks clearance_ticks(const ClearancePicture& picture, Length top, double height) {
    const int count = std::max(2, static_cast<int>(height / 26.0));
    const double step = round_step(core::to_unit(top, shown_unit(picture.unit)), count);
    return {step, std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)))};
}

double angle_step(Angle stop, double width) {
    constexpr double k_between = 48.0;
    constexpr std::array<double, 7> k_steps{1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 45.0};
    const double least = in_deg(stop) * k_between / width;
    const auto step = std::find_if(k_steps.begin(), k_steps.end(), [&](double one) { return one >= least; });
    return step == k_steps.end() ? 90.0 : *step;
}

QString heading(const ClearancePicture& picture) {
    return QObject::tr("%1: clearance in %2")
        .arg(text_of(picture.door),
             shown_unit(picture.unit) == core::BareUnit::in ? QObject::tr("inches") : QStringLiteral("mm"));
}

QRectF heading_box(const ClearancePicture& picture, const QSizeF& sheet) {
    const QRectF room(k_edge, k_edge - 2.0, std::max(1.0, sheet.width() - 2.0 * k_edge), sheet.height());
    return QFontMetricsF(looks::font(looks::k_text)).boundingRect(room, Qt::TextWordWrap, heading(picture));
}

/// One stroke for every moving body, so that they are told apart without a colour.
Qt::PenStyle stroke(std::size_t index) {
    constexpr std::array<Qt::PenStyle, 4> k_strokes{Qt::SolidLine, Qt::DashDotLine, Qt::DotLine, Qt::DashDotDotLine};
    return k_strokes.at(index % k_strokes.size());
}

/// Where the names of the curves stand, below the heading: line by line.
struct Key {
    std::vector<QRectF> boxes;
    double bottom = 0.0;
};
constexpr double k_sample = 30.0;

Key key_of(const ClearancePicture& picture, double top, double width) {
    Key key{{}, top};
    if (picture.lines.size() < 2) {
        return key;
    }
    const double height = line_height(k_small_text);
    double x = k_edge;
    for (const ClearanceLine& line : picture.lines) {
        const double wide =
            std::min(k_sample + 6.0 + width_of(text_of(line.moving), k_small_text), width - 2.0 * k_edge);
        if (x > k_edge && x + wide > width - k_edge) {
            x = k_edge;
            key.bottom += height;
        }
        key.boxes.emplace_back(x, key.bottom, wide, height);
        x += wide + 14.0;
    }
    key.bottom += height;
    return key;
}

class Drawing {
public:
    Drawing(QPainter& painter, const QSizeF& sheet, const ClearancePicture& picture, looks::Tone tone)
        : painter_{painter}, sheet_{sheet}, picture_{picture}, tone_{tone}, colours_{looks::colours(tone)} {}

    void draw() {
        painter_.save();
        painter_.setRenderHint(QPainter::Antialiasing);
        painter_.fillRect(QRectF(QPointF(), sheet_), colours_.paper);
        draw_heading();
        const auto scale = clearance_scale(picture_, sheet_);
        if (scale) {
            scale_ = *scale;
            draw_key();
            draw_axes();
            draw_touching();
            draw_needed();
            draw_lines();
            draw_opening();
            draw_marks();
            name_opening();
        }
        painter_.restore();
    }

private:
    void say(const QRectF& box, const QString& text, const QColor& colour, int align, bool bold = false) {
        painter_.setFont(looks::font(k_small_text, bold));
        painter_.setPen(colour);
        painter_.drawText(box, align, text);
    }

    void draw_heading() {
        painter_.setFont(looks::font(looks::k_text));
        painter_.setPen(colours_.graphite);
        const QRectF box = heading_box(picture_, sheet_);
        if (!picture_.door.empty()) {
            painter_.drawText(box, Qt::TextWordWrap, heading(picture_));
        }
        if (!picture_.sentence.empty()) {
            painter_.setPen(colours_.pencil);
            const double top = picture_.door.empty() ? k_edge : box.bottom() + k_edge;
            painter_.drawText(QRectF(k_edge, top, sheet_.width() - 2.0 * k_edge, sheet_.height() - top),
                              Qt::TextWordWrap, text_of(picture_.sentence));
        }
    }

    void draw_key() {
        const Key key = key_of(picture_, heading_box(picture_, sheet_).bottom() + 2.0, sheet_.width());
        for (std::size_t i = 0; i < key.boxes.size(); ++i) {
            const QRectF& box = key.boxes[i];
            painter_.setPen(QPen(colours_.door, 2.5, stroke(i)));
            painter_.drawLine(QPointF(box.left(), box.center().y()), QPointF(box.left() + k_sample, box.center().y()));
            const QRectF name = box.adjusted(k_sample + 6.0, 0.0, 0.0, 0.0);
            say(name,
                QFontMetricsF(looks::font(k_small_text))
                    .elidedText(text_of(picture_.lines[i].moving), Qt::ElideMiddle, name.width() + 1.0),
                colours_.door, Qt::AlignLeft | Qt::AlignVCenter);
        }
    }

    void draw_axes() {
        const QRectF& field = scale_.field;
        const double small = line_height(k_small_text);
        const Ticks ticks = clearance_ticks(picture_, scale_.top, field.height());
        const core::BareUnit unit = shown_unit(picture_.unit);
        for (int i = 0;; ++i) {
            const Length at = core::from_unit(i * ticks.step, unit);
            if (at > scale_.top) {
                break;
            }
            const double y = scale_.y_of(at);
            painter_.setPen(QPen(colours_.edge, 1.0));
            painter_.drawLine(QPointF(field.left(), y), QPointF(field.right(), y));
            say(QRectF(0.0, y - small / 2.0, field.left() - k_tick_room, small),
                text_of(core::fixed_text(i * ticks.step, ticks.decimals)), colours_.pencil,
                Qt::AlignRight | Qt::AlignVCenter);
        }
        const double step = angle_step(scale_.stop, field.width());
        for (int i = 0; i * step <= in_deg(scale_.stop) + 1e-9; ++i) {
            const double x = scale_.x_of(degrees(i * step));
            painter_.setPen(QPen(colours_.pencil, 1.0));
            painter_.drawLine(QPointF(x, field.bottom()), QPointF(x, field.bottom() + 4.0));
            say(QRectF(x - 30.0, field.bottom() + k_tick_room, 60.0, small),
                text_of(core::fixed_text(i * step, 0)) + QStringLiteral("°"), colours_.pencil,
                Qt::AlignHCenter | Qt::AlignTop);
        }
        painter_.setPen(QPen(colours_.pencil, 1.0));
        painter_.drawLine(field.bottomLeft(), field.bottomRight());
    }

    void draw_touching() {
        constexpr double k_least_width = 3.0;
        painter_.setOpacity(picture_.old_marks ? k_pale : 1.0);
        for (const ClearanceMark& mark : picture_.marks) {
            for (const core::AngleRange& range : mark.touching) {
                const double from = scale_.x_of(std::max(range.from, Angle{}));
                const double to = std::max(from + k_least_width, scale_.x_of(std::min(range.to, scale_.stop)));
                const QRectF box(QPointF(from, scale_.field.top()), QPointF(to, scale_.field.bottom()));
                const QColor colour = looks::shape_colour(core::State::falls_short, tone_);
                painter_.fillRect(box, QBrush(colour, Qt::BDiagPattern));
                painter_.setPen(QPen(colour, 1.0));
                painter_.drawLine(box.topLeft(), box.bottomLeft());
                painter_.drawLine(box.topRight(), box.bottomRight());
            }
        }
        painter_.setOpacity(1.0);
    }

    void draw_needed() {
        QStringList said;
        for (const ClearanceMark& mark : picture_.marks) {
            if (!mark.needed) {
                continue;
            }
            const core::BareUnit unit = shown_unit(picture_.unit);
            const QString words = QObject::tr("needs %1")
                                      .arg(text_of(core::fixed_text(core::to_unit(*mark.needed, unit),
                                                                    unit == core::BareUnit::in ? 3 : 1)));
            if (said.contains(words)) {
                continue;
            }
            said += words;
            const double y = scale_.y_of(*mark.needed);
            painter_.setPen(QPen(colours_.graphite, 1.5, Qt::DashLine));
            painter_.drawLine(QPointF(scale_.field.left(), y), QPointF(scale_.field.right(), y));
            const QRectF size(0.0, 0.0, width_of(words, k_small_text) + 4.0, line_height(k_small_text));
            place(words, colours_.graphite, false,
                  {QPointF(scale_.field.right() - size.width(), y - size.height() - 1.0),
                   QPointF(scale_.field.right() - size.width(), y + 2.0),
                   QPointF(scale_.field.center().x(), y - size.height() - 1.0)});
        }
    }

    void draw_lines() {
        painter_.save();
        painter_.setClipRect(scale_.field.adjusted(-2.0, 0.0, 2.0, 2.0), Qt::IntersectClip);
        painter_.setOpacity(picture_.old_lines ? k_pale : 1.0);
        painter_.setBrush(Qt::NoBrush);
        for (std::size_t i = 0; i < picture_.lines.size(); ++i) {
            painter_.setPen(QPen(colours_.door, 2.5, stroke(i), Qt::FlatCap, Qt::RoundJoin));
            QPolygonF line;
            for (const ClearanceAtAngle& point : picture_.lines[i].points) {
                line += QPointF(scale_.x_of(point.door_angle), scale_.y_of(point.clearance));
            }
            painter_.drawPolyline(line);
        }
        painter_.restore();
    }

    void draw_marks() {
        painter_.setOpacity(picture_.old_marks ? k_pale : 1.0);
        for (const ClearanceMark& mark : picture_.marks) {
            const bool above = mark.least > scale_.top;
            const QPointF at(scale_.x_of(mark.at), above ? scale_.field.top() + k_mark / 2.0 : scale_.y_of(mark.least));
            looks::draw_shape(painter_, QRectF(at.x() - k_mark / 2.0, at.y() - k_mark / 2.0, k_mark, k_mark),
                              mark.state, tone_);
            const QString words = (above ? QStringLiteral("↑ ") : QString()) + text_of(mark.words);
            const double wide = width_of(words, k_small_text, true) + 4.0;
            const double high = line_height(k_small_text);
            taken_.emplace_back(at.x() - k_mark / 2.0, at.y() - k_mark / 2.0, k_mark, k_mark);
            const double beside = at.x() + k_mark;
            const double before = at.x() - k_mark - wide;
            place(words, looks::text_colour(mark.state, tone_), true,
                  {QPointF(beside, at.y() - high - 4.0), QPointF(beside, at.y() - 2.2 * high),
                   QPointF(beside, at.y() - 3.4 * high), QPointF(before, at.y() - high - 4.0),
                   QPointF(before, at.y() - 2.2 * high), QPointF(beside, at.y() + 4.0), QPointF(before, at.y() + 4.0),
                   QPointF(scale_.field.right() - wide, scale_.field.top() + high)});
        }
        painter_.setOpacity(1.0);
    }

    void draw_opening() {
        const QRectF& field = scale_.field;
        const double x = scale_.x_of(std::clamp(picture_.opening, Angle{}, scale_.stop));
        painter_.setPen(QPen(colours_.graphite, 1.5));
        painter_.drawLine(QPointF(x, field.top()), QPointF(x, field.bottom()));
        painter_.setBrush(colours_.graphite);
        painter_.drawEllipse(QPointF(x, field.top() - k_handle), k_handle, k_handle);
    }

    void name_opening() {
        const QRectF& field = scale_.field;
        const double x = scale_.x_of(std::clamp(picture_.opening, Angle{}, scale_.stop));
        const QString words = QObject::tr("door at %1").arg(text_of(core::degree_text(picture_.opening, 1)));
        const double wide = width_of(words, k_small_text, true) + 4.0;
        const double high = line_height(k_small_text);
        place(words, colours_.graphite, true,
              {QPointF(x + 4.0, field.top()), QPointF(x - 4.0 - wide, field.top()),
               QPointF(x + 4.0, field.top() + high), QPointF(x - 4.0 - wide, field.top() + high),
               QPointF(x + 4.0, field.top() + 2.0 * high), QPointF(x - 4.0 - wide, field.top() + 2.0 * high)});
    }

    /// Writes at the first place that is inside the field and free, else at the free place nearest to the
    /// first; where there is none, inside all the same.
    void place(const QString& words, const QColor& colour, bool bold, const std::vector<QPointF>& places) {
        const QSizeF size(width_of(words, k_small_text, bold) + 4.0, line_height(k_small_text));
        const QRectF inside = scale_.field.adjusted(0.0, 0.0, k_edge - 2.0, 0.0);
        const auto fits = [&](const QPointF& at) {
            const QRectF one(at, size);
            return inside.contains(one) &&
                   std::none_of(taken_.begin(), taken_.end(), [&](const QRectF& r) { return r.intersects(one); });
        };
        const auto found = std::find_if(places.begin(), places.end(), fits);
        QPointF at = found != places.end() ? *found : places.front();
        if (found == places.end()) {
            at.setX(std::max(inside.left(), std::min(at.x(), inside.right() - size.width())));
            at.setY(std::max(inside.top(), std::min(at.y(), inside.bottom() - size.height())));
            at = nearest_free(at, inside, fits).value_or(at);
        }
        const QRectF box(at, size);
        QColor behind = colours_.paper;
        behind.setAlphaF(0.85F);
        painter_.fillRect(box, behind);
        say(box, words, colour, Qt::AlignHCenter | Qt::AlignVCenter | Qt::TextDontClip, bold);
        taken_.push_back(box);
    }

    template <class Fits>
    static std::optional<QPointF> nearest_free(const QPointF& from, const QRectF& inside, const Fits& fits) {
        constexpr double k_step = 6.0;
        std::optional<QPointF> best;
        const auto away = [&](const QPointF& at) { return QPointF::dotProduct(at - from, at - from); };
        for (double y = inside.top(); y < inside.bottom(); y += k_step) {
            for (double x = inside.left(); x < inside.right(); x += k_step) {
                const QPointF at(x, y);
                if ((!best || away(at) < away(*best)) && fits(at)) {
                    best = at;
                }
            }
        }
        return best;
    }

    QPainter& painter_;
    QSizeF sheet_;
    const ClearancePicture& picture_;
    looks::Tone tone_;
    const looks::Colours& colours_;
    ClearanceScale scale_;
    std::vector<QRectF> taken_;  ///< By words and marks.
};

}  // namespace

double ClearanceScale::x_of(Angle angle) const {
    return field.left() + field.width() * (angle / stop);
}

double ClearanceScale::y_of(Length clearance) const {
    return field.bottom() - field.height() * (clearance / top);
}

Angle ClearanceScale::angle_at(double x) const {
    return stop * std::clamp((x - field.left()) / field.width(), 0.0, 1.0);
}

std::optional<ClearanceScale> clearance_scale(const ClearancePicture& picture, const QSizeF& sheet) {
    if (picture.door.empty() || !picture.sentence.empty() || picture.stop <= Angle{}) {
        return std::nullopt;
    }
    const Length top = top_of(picture);
    const double small = line_height(k_small_text);
    const double upper =
        key_of(picture, heading_box(picture, sheet).bottom() + 2.0, sheet.width()).bottom + 2.0 * k_handle + 2.0;
    const double lower = sheet.height() - small - k_tick_room - 6.0;
    const Ticks ticks = clearance_ticks(picture, top, lower - upper);
    const double widest =
        width_of(text_of(core::fixed_text(core::to_unit(top, shown_unit(picture.unit)), ticks.decimals)), k_small_text);
    const double left = k_edge + widest + k_tick_room;
    const double right = sheet.width() - k_edge - 6.0;
    if (lower - upper < k_least_field || right - left < k_least_field) {
        return std::nullopt;
    }
    return ClearanceScale{QRectF(QPointF(left, upper), QPointF(right, lower)), picture.stop, top};
}

ClearancePlot::ClearancePlot(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("clearancePlot"));
    setFocusPolicy(Qt::StrongFocus);
    setToolTip(tr("Press or drag to turn the door; arrow keys turn it by half a degree, with Shift by a tenth"));
    describe();
}

void ClearancePlot::show_picture(ClearancePicture picture) {
    if (picture != picture_) {
        picture_ = std::move(picture);
        describe();
        update();
    }
}

void ClearancePlot::show_opening(Angle opening) {
    if (opening != picture_.opening) {
        picture_.opening = opening;
        describe();
        update();
    }
}

void ClearancePlot::describe() {
    setAccessibleName(title());
    setAccessibleDescription(words());
}

void ClearancePlot::draw(QPainter& painter, const QSizeF& sheet) const {
    Drawing(painter, sheet, picture_, tone()).draw();
}

QString ClearancePlot::title() const {
    return picture_.door.empty() ? tr("clearance by opening") : text_of(picture_.door) + tr(", clearance by opening");
}

QString ClearancePlot::words() const {
    if (!picture_.sentence.empty()) {
        return text_of(picture_.sentence);
    }
    const core::BareUnit unit = shown_unit(picture_.unit);
    const auto length = [&](Length one) {
        return text_of(unit == core::BareUnit::in ? core::fixed_text(core::to_unit(one, unit), 3) + " in"
                                                  : core::mm_text(one));
    };
    QStringList parts;
    for (const ClearanceMark& mark : picture_.marks) {
        QString part = tr("%1, %2").arg(text_of(core::look(mark.state).word), text_of(mark.words));
        if (mark.needed) {
            part += tr(", needs %1").arg(length(*mark.needed));
        }
        parts += part;
    }
    parts += tr("door at %1, full opening %2")
                 .arg(text_of(core::degree_text(picture_.opening, 1)), text_of(core::degree_text(picture_.stop, 1)));
    if (picture_.old_lines || picture_.old_marks) {
        parts += tr("of an earlier state of the job");
    }
    return parts.join(QStringLiteral(". ")) + QStringLiteral(".");
}

void ClearancePlot::paintEvent(QPaintEvent* event) {
    Paper::paintEvent(event);
    if (hasFocus()) {  // Of the widget, not of the drawing: it is not printed.
        QPainter painter(this);
        painter.setPen(QPen(colours().graphite, 2.0));
        painter.drawRect(QRectF(rect()).adjusted(1.0, 1.0, -1.0, -1.0));
    }
}

void ClearancePlot::turn_to(const QPointF& at) {
    if (const auto scale = clearance_scale(picture_, size())) {
        emit wants_opening(scale->angle_at(at.x()));
    }
}

void ClearancePlot::mousePressEvent(QMouseEvent* event) {
    if (event->button() == Qt::LeftButton) {
        turn_to(event->position());
    } else {
        Paper::mousePressEvent(event);
    }
}

void ClearancePlot::mouseMoveEvent(QMouseEvent* event) {
    if (event->buttons().testFlag(Qt::LeftButton)) {
        turn_to(event->position());
    }
}

void ClearancePlot::keyPressEvent(QKeyEvent* event) {
    const Angle fine = degrees(event->modifiers().testFlag(Qt::ShiftModifier) ? 0.1 : 0.5);
    constexpr Angle k_page = degrees(5.0);
    std::optional<Angle> to;
    switch (event->key()) {
        case Qt::Key_Left:
            to = picture_.opening - fine;
            break;
        case Qt::Key_Right:
            to = picture_.opening + fine;
            break;
        case Qt::Key_PageDown:
            to = picture_.opening - k_page;
            break;
        case Qt::Key_PageUp:
            to = picture_.opening + k_page;
            break;
        case Qt::Key_Home:
            to = Angle{};
            break;
        case Qt::Key_End:
            to = picture_.stop;
            break;
        default:
            break;
    }
    if (!to || !clearance_scale(picture_, size())) {
        Paper::keyPressEvent(event);
        return;
    }
    emit wants_opening(std::clamp(*to, Angle{}, picture_.stop));
}

}  // namespace sillwright::app
