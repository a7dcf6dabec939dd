#include "app/drawings/composition.h"

#include <QFontMetricsF>
#include <algorithm>
#include <cmath>

#include "app/drawings/label_layout.h"
#include "app/text_of.h"

namespace sillwright::app {

namespace {

constexpr double k_edge = 10.0;
constexpr double k_shape = 0.8;  ///< Of a state, of the height of the words beside it.
constexpr double k_behind_shape = 6.0;
constexpr double k_witness = 5.0;  ///< Half of the tick at a dimension's end.

void add_box(std::vector<QLineF>& lines, const QRectF& box) {
    lines.insert(lines.end(), {QLineF(box.topLeft(), box.topRight()), QLineF(box.bottomLeft(), box.bottomRight()),
                               QLineF(box.topLeft(), box.bottomLeft()), QLineF(box.topRight(), box.bottomRight()),
                               QLineF(box.topLeft(), box.bottomRight())});
}

}  // namespace

QFont Lettering::font() const {
    QFont made = looks::font(pixels, bold);
    made.setItalic(italic);
    return made;
}

QSizeF Lettering::size_of(const QString& text) const {
    const QFontMetricsF metrics(font());
    // Slanted letters lean beyond their advance.
    const double lean = italic ? metrics.height() / 6.0 : 0.0;
    return {std::ceil(metrics.horizontalAdvance(text) + lean) + 1.0, std::ceil(metrics.height())};
}

void Composition::line(const QLineF& line, const QPen& pen) {
    strokes_.push_back({QPolygonF({line.p1(), line.p2()}), pen, Qt::NoBrush, false});
}

void Composition::chain(const QPolygonF& points, const QPen& pen) {
    if (points.size() > 1) {
        strokes_.push_back({points, pen, Qt::NoBrush, false});
    }
}

void Composition::area(const QPolygonF& points, const QBrush& brush, const QPen& pen) {
    if (points.size() > 2) {
        strokes_.push_back({points, pen, brush, true});
    }
}

QRectF Composition::write(const QPointF& at, const QString& text, const Lettering& look) {
    const QRectF box(at, look.size_of(text));
    if (!text.isEmpty()) {
        writings_.push_back({box, text, look, Qt::AlignLeft | Qt::AlignVCenter | Qt::TextSingleLine});
    }
    return box;
}

QRectF Composition::write_centred(const QPointF& at, const QString& text, const Lettering& look) {
    const double wide = look.size_of(text).width();
    const double left = std::clamp(at.x() - wide / 2.0, sheet_.left(), std::max(sheet_.left(), sheet_.right() - wide));
    return write({left, at.y()}, text, look);
}

QRectF Composition::write_ending(const QPointF& at, const QString& text, const Lettering& look) {
    return write({at.x() - look.size_of(text).width(), at.y()}, text, look);
}

QRectF Composition::write_wrapped(double left, double right, double top, const QString& text, const Lettering& look) {
    const QRectF room(left, top, std::max(1.0, right - left), 1.0e5);
    QRectF box = QFontMetricsF(look.font()).boundingRect(room, Qt::AlignLeft | Qt::TextWordWrap, text);
    box = QRectF(left, top, room.width(), std::ceil(box.height()));
    if (text.isEmpty()) {
        return {left, top, room.width(), 0.0};
    }
    writings_.push_back({box, text, look, Qt::AlignLeft | Qt::AlignTop | Qt::TextWordWrap});
    return box;
}

QRectF Composition::write_state(const QPointF& at, core::State state, const QString& text, const Lettering& look) {
    const double high = look.size_of(text).height();
    const double side = std::round(k_shape * look.pixels);
    shape(QRectF(at.x(), at.y() + (high - side) / 2.0, side, side), state);
    const QRectF words = write({at.x() + side + k_behind_shape, at.y()}, text, look);
    return {at, QPointF(words.right(), words.bottom())};
}

void Composition::name(std::vector<QPointF> at, const QString& text, const Lettering& look) {
    if (!at.empty() && !text.isEmpty()) {
        names_.push_back({std::move(at), text, look});
    }
}

std::vector<QLineF> Composition::obstacles() const {
    std::vector<QLineF> lines;
    for (const Stroke& stroke : strokes_) {
        if (stroke.pen.style() == Qt::NoPen) {
            continue;  // words may stand on a wash
        }
        for (qsizetype i = 1; i < stroke.points.size(); ++i) {
            lines.emplace_back(stroke.points[i - 1], stroke.points[i]);
        }
        if (stroke.closed) {
            lines.emplace_back(stroke.points.back(), stroke.points.front());
        }
    }
    for (const Writing& writing : writings_) {
        add_box(lines, writing.box);
    }
    for (const Shape& shape : shapes_) {
        add_box(lines, shape.box);
    }
    return lines;
}

void Composition::place_names(const QRectF& room) {
    std::vector<LabelWish> wishes;
    for (const Name& name : names_) {
        wishes.push_back({name.at, name.look.size_of(name.text)});
    }
    const std::vector<LabelPlace> places = place_labels(wishes, obstacles(), room);
    for (std::size_t i = 0; i < places.size(); ++i) {
        const bool written_on = std::any_of(writings_.begin(), writings_.end(), [&](const Writing& writing) {
            return writing.box.intersects(places[i].box);
        });
        if (places[i].covers_text() || written_on) {
            continue;
        }
        if (places[i].far) {
            line(leader(places[i].box, places[i].at), QPen(names_[i].look.colour, 0.8));
        }
        write(places[i].box.topLeft(), names_[i].text, names_[i].look);
    }
    names_.clear();
}

void Composition::paint(QPainter& painter) const {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(sheet_, colours().paper);
    for (const Stroke& stroke : strokes_) {
        painter.setPen(stroke.pen);
        painter.setBrush(stroke.brush);
        if (stroke.closed) {
            painter.drawPolygon(stroke.points);
        } else {
            painter.drawPolyline(stroke.points);
        }
    }
    for (const Shape& shape : shapes_) {
        looks::draw_shape(painter, shape.box, shape.state, tone_);
    }
    for (const Writing& writing : writings_) {
        painter.setPen(writing.look.colour);
        painter.setFont(writing.look.font());
        painter.drawText(writing.box, writing.align | Qt::TextDontClip, writing.text);
    }
    painter.restore();
}

void ComposedPaper::draw(QPainter& painter, const QSizeF& sheet) const {
    compose(sheet).paint(painter);
}

Composition ComposedPaper::sentence(const QSizeF& sheet, const std::string& words) const {
    Composition made(sheet, tone());
    made.write_wrapped(k_edge, sheet.width() - k_edge, k_edge, text_of(words), made.plain());
    return made;
}

void add_dimension(Composition& composition, const QPointF& from, const QPointF& to, const QString& number,
                   const Lettering& look) {
    const QPen pen(look.colour, 1.0);
    const QLineF whole(from, to);
    const bool upright = std::abs(whole.dy()) > std::abs(whole.dx());
    const QPointF tick = upright ? QPointF(k_witness, 0.0) : QPointF(0.0, k_witness);
    composition.line({from - tick, from + tick}, pen);
    composition.line({to - tick, to + tick}, pen);
    const QSizeF size = look.size_of(number);
    constexpr double k_air = 5.0;
    if (!upright && std::abs(whole.dx()) > size.width() + 4.0 * k_air) {
        const QPointF middle = whole.center();
        const double gap = size.width() / 2.0 + k_air;
        composition.line({QPointF(std::min(from.x(), to.x()), middle.y()), middle - QPointF(gap, 0.0)}, pen);
        composition.line({middle + QPointF(gap, 0.0), QPointF(std::max(from.x(), to.x()), middle.y())}, pen);
        composition.write_centred({middle.x(), middle.y() - size.height() / 2.0}, number, look);
        return;
    }
    composition.line(whole, pen);
    const QPointF middle = whole.center();
    composition.write(upright ? QPointF(middle.x() + k_air, middle.y() - size.height() / 2.0)
                              : QPointF(std::max(from.x(), to.x()) + k_air, middle.y() - size.height() / 2.0),
                      number, look);
}

}  // namespace sillwright::app
