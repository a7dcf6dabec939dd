#include "app/looks.h"

#include <QPolygonF>

namespace sillwright::app::looks {

using core::State;

QColor shape_colour(State state) {
    switch (state) {
        case State::holds:
            return {0x00, 0x58, 0x8C};
        case State::close:
            return {0xF2, 0xB8, 0x4B};
        case State::falls_short:
            return {0xA8, 0x3C, 0x00};
        case State::not_measured:
            break;
    }
    return {0x5F, 0x5F, 0x5F};
}

QColor text_colour(State state) {
    return state == State::close ? QColor{0x8A, 0x52, 0x00} : shape_colour(state);
}

void draw_shape(QPainter& painter, const QRectF& box, State state) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const double pen_width = box.width() / 10.0;
    painter.setPen(Qt::NoPen);
    painter.setBrush(shape_colour(state));
    const QPointF c = box.center();
    switch (state) {
        case State::holds:
            painter.drawEllipse(box.adjusted(pen_width, pen_width, -pen_width, -pen_width));
            break;
        case State::close: {
            painter.setPen(QPen(k_graphite, pen_width));
            const QRectF inner = box.adjusted(pen_width, pen_width, -pen_width, -pen_width);
            painter.drawPolygon(QPolygonF{{QPointF(c.x(), inner.top()), inner.bottomRight(), inner.bottomLeft()}});
            break;
        }
        case State::falls_short:
            painter.drawPolygon(QPolygonF{{QPointF(c.x(), box.top()), QPointF(box.right(), c.y()),
                                           QPointF(c.x(), box.bottom()), QPointF(box.left(), c.y())}});
            break;
        case State::not_measured: {
            const double inset = 2.0 * pen_width;
            painter.setBrush(Qt::NoBrush);
            painter.setPen(QPen(shape_colour(state), 1.5 * pen_width));
            painter.drawRect(box.adjusted(inset, inset, -inset, -inset));
            break;
        }
    }
    painter.restore();
}

QFont font(int pixels, bool bold) {
    QFont usual;
    usual.setPixelSize(pixels);
    usual.setBold(bold);
    return usual;
}

}  // namespace sillwright::app::looks
