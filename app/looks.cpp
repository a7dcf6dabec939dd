#include "app/looks.h"

#include <QPolygonF>

namespace sillwright::app::looks {

using core::State;

const Colours& colours(Tone tone) {
    static const Colours light{.desk{0xEE, 0xE9, 0xDC},
                               .paper{0xF8, 0xF5, 0xED},
                               .edge{0xCF, 0xC8, 0xB6},
                               .graphite{0x26, 0x26, 0x26},
                               .pencil{0x57, 0x53, 0x4A},
                               .door{0x4A, 0x35, 0x7A},
                               .skirt{0x00, 0x66, 0x5A}};
    static const Colours dark{.desk{0x1B, 0x1A, 0x18},
                              .paper{0x26, 0x25, 0x22},
                              .edge{0x4A, 0x47, 0x40},
                              .graphite{0xEC, 0xE7, 0xDA},
                              .pencil{0xB4, 0xAE, 0xA0},
                              .door{0xBF, 0xAB, 0xF2},
                              .skirt{0x55, 0xC4, 0xB2}};
    return tone == Tone::dark ? dark : light;
}

QPalette palette(Tone tone) {
    const Colours& c = colours(tone);
    QPalette made;
    made.setColor(QPalette::Window, c.desk);
    made.setColor(QPalette::WindowText, c.graphite);
    made.setColor(QPalette::Base, c.paper);
    made.setColor(QPalette::AlternateBase, c.desk);
    made.setColor(QPalette::ToolTipBase, c.paper);
    made.setColor(QPalette::ToolTipText, c.graphite);
    made.setColor(QPalette::PlaceholderText, c.pencil);
    made.setColor(QPalette::Text, c.graphite);
    made.setColor(QPalette::Button, c.paper);
    made.setColor(QPalette::ButtonText, c.graphite);
    made.setColor(QPalette::BrightText, c.paper);
    made.setColor(QPalette::Light, c.paper);
    made.setColor(QPalette::Midlight, c.edge);
    made.setColor(QPalette::Mid, c.edge);
    made.setColor(QPalette::Dark, c.pencil);
    made.setColor(QPalette::Shadow, c.pencil);
    made.setColor(QPalette::Highlight, c.skirt);
    made.setColor(QPalette::HighlightedText, c.paper);
    made.setColor(QPalette::Link, c.skirt);
    for (const QPalette::ColorRole role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText}) {
        made.setColor(QPalette::Disabled, role, c.pencil);
    }
    return made;
}

Tone tone_of(const QPalette& palette) {
    constexpr int k_middle = 128;
    return palette.color(QPalette::Base).lightness() < k_middle ? Tone::dark : Tone::light;
}

QColor shape_colour(State state, Tone tone) {
    const bool dark = tone == Tone::dark;
    switch (state) {
        case State::holds:
            return dark ? QColor{0x6F, 0xB7, 0xE6} : QColor{0x00, 0x58, 0x8C};
        case State::close:
            return {0xF2, 0xB8, 0x4B};
        case State::falls_short:
            return dark ? QColor{0xFF, 0x8F, 0x5A} : QColor{0xA8, 0x3C, 0x00};
        case State::not_measured:
            break;
    }
    return dark ? QColor{0xB4, 0xAE, 0xA0} : QColor{0x5F, 0x5F, 0x5F};
}

QColor text_colour(State state, Tone tone) {
    return state == State::close && tone == Tone::light ? QColor{0x8A, 0x52, 0x00} : shape_colour(state, tone);
}

void draw_shape(QPainter& painter, const QRectF& box, State state, Tone tone) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const double pen_width = box.width() / 10.0;
    painter.setPen(Qt::NoPen);
    painter.setBrush(shape_colour(state, tone));
    const QPointF c = box.center();
    switch (state) {
        case State::holds:
            painter.drawEllipse(box.adjusted(pen_width, pen_width, -pen_width, -pen_width));
            break;
        case State::close: {
            painter.setPen(QPen(colours(tone).graphite, pen_width));
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
            painter.setPen(QPen(shape_colour(state, tone), 1.5 * pen_width));
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
