#include "app/drawings/bars_drawing.h"

#include <QFontMetricsF>
#include <QResizeEvent>
#include <array>
#include <cmath>
#include <vector>

#include "app/text_of.h"

namespace sillwright::app {

namespace {

constexpr double k_edge = 14.0;
constexpr double k_bar = 30.0;
constexpr double k_gap = 6.0;
constexpr double k_between = 18.0;  ///< Two bars.

double text_height(const QString& text, double width, bool bold) {
    return text.isEmpty() ? 0.0
                          : std::ceil(QFontMetricsF(looks::font(looks::k_text, bold))
                                          .boundingRect(QRectF(0.0, 0.0, width, 1e4), Qt::TextWordWrap, text)
                                          .height());
}

/// "1 hinge axis 62 %"
QString part_words(const Bar& bar, std::size_t part) {
    return QObject::tr("%1: %2, %3 %")
        .arg(part + 1)
        .arg(text_of(bar.parts[part].words))
        .arg(std::round(100.0 * bar.parts[part].share));
}

QString legend(const Bar& bar) {
    QStringList words;
    for (std::size_t part = 0; part < bar.parts.size(); ++part) {
        words << part_words(bar, part);
    }
    return words.join(QStringLiteral(" · "));
}

/// Boxes of one bar, downwards.
struct Place {
    QRectF label, bar, legend, words;
};

std::vector<Place> places(const BarsPicture& picture, double width, double& bottom) {
    const double wide = std::max(1.0, width - 2.0 * k_edge);
    double top = k_edge + text_height(text_of(picture.heading), wide, true) + k_gap;
    std::vector<Place> all;
    for (const Bar& bar : picture.bars) {
        const auto row = [&](double high) {
            const QRectF box(k_edge, top, wide, high);
            top += high > 0.0 ? high + k_gap : 0.0;
            return box;
        };
        Place place;
        place.label = row(text_height(text_of(bar.label), wide, true));
        place.bar = row(k_bar);
        place.legend = row(text_height(legend(bar), wide, false));
        place.words = row(text_height(text_of(bar.words), wide, false));
        top += k_between - k_gap;
        all.push_back(place);
    }
    bottom = picture.bars.empty() ? top + text_height(text_of(picture.none), wide, false) + k_edge : top;
    return all;
}

QRectF part_of(const Bar& bar, const QRectF& box, std::size_t part) {
    double before = 0.0;
    for (std::size_t i = 0; i < part; ++i) {
        before += bar.parts[i].share;
    }
    return {box.left() + before * box.width(), box.top(), bar.parts[part].share * box.width(), box.height()};
}

/// Told apart without a colour.
Qt::BrushStyle hatching(std::size_t part) {
    constexpr std::array k_styles{Qt::Dense3Pattern, Qt::BDiagPattern, Qt::Dense6Pattern, Qt::HorPattern,
                                  Qt::FDiagPattern};
    return k_styles.at(part % k_styles.size());
}

}  // namespace

BarsDrawing::BarsDrawing(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("barsDrawing"));
    setAccessibleName(tr("What to measure better first"));
    QSizePolicy policy(QSizePolicy::Expanding, QSizePolicy::Minimum);
    policy.setHeightForWidth(true);
    setSizePolicy(policy);
}

void BarsDrawing::set_picture(BarsPicture picture) {
    if (picture == picture_) {
        return;
    }
    picture_ = std::move(picture);
    QStringList words{text_of(picture_.heading)};
    for (const Bar& bar : picture_.bars) {
        words << text_of(bar.label) + QStringLiteral(": ") + legend(bar);
    }
    words << (picture_.bars.empty() ? text_of(picture_.none) : QString());
    setAccessibleDescription(words.join(QStringLiteral(". ")));
    setMinimumHeight(heightForWidth(width()));
    updateGeometry();
    update();
}

QString BarsDrawing::title() const {
    return tr("what to measure better first");
}

int BarsDrawing::heightForWidth(int width) const {
    double bottom = 0.0;
    places(picture_, width, bottom);
    return static_cast<int>(std::ceil(bottom));
}

QSize BarsDrawing::sizeHint() const {
    return {600, heightForWidth(600)};
}

void BarsDrawing::resizeEvent(QResizeEvent* event) {
    Paper::resizeEvent(event);
    setMinimumHeight(heightForWidth(event->size().width()));
}

QRectF BarsDrawing::bar_box(std::size_t bar) const {
    double bottom = 0.0;
    return places(picture_, width(), bottom).at(bar).bar;
}

QRectF BarsDrawing::part_box(std::size_t bar, std::size_t part) const {
    return part_of(picture_.bars.at(bar), bar_box(bar), part);
}

void BarsDrawing::draw(QPainter& painter, const QSizeF& sheet) const {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(QRectF({}, sheet), colours().paper);
    double bottom = 0.0;
    const std::vector<Place> all = places(picture_, sheet.width(), bottom);
    const double wide = sheet.width() - 2.0 * k_edge;
    const auto write = [&](const QRectF& box, const QString& text, bool bold, const QColor& colour) {
        painter.setFont(looks::font(looks::k_text, bold));
        painter.setPen(colour);
        painter.drawText(box, Qt::TextWordWrap, text);
    };
    const QString heading = text_of(picture_.heading);
    const double high = text_height(heading, wide, true);
    write(QRectF(k_edge, k_edge, wide, high), heading, true, colours().graphite);
    if (picture_.bars.empty()) {
        write(QRectF(k_edge, k_edge + high + k_gap, wide, text_height(text_of(picture_.none), wide, false)),
              text_of(picture_.none), false, colours().pencil);
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Bar& bar = picture_.bars[i];
        write(all[i].label, text_of(bar.label), true, colours().graphite);
        for (std::size_t part = 0; part < bar.parts.size(); ++part) {
            const QRectF box = part_of(bar, all[i].bar, part);
            painter.fillRect(box, colours().paper);
            painter.fillRect(box, QBrush(part == 0 ? colours().pencil : colours().edge, hatching(part)));
            painter.setPen(QPen(colours().graphite, part == 0 ? 2.4 : 1.2));
            painter.setBrush(Qt::NoBrush);
            painter.drawRect(box);
            const QString number = QString::number(part + 1);
            painter.setFont(looks::font(looks::k_text, true));
            const double room = QFontMetricsF(painter.font()).horizontalAdvance(number) + 10.0;
            if (box.width() >= room) {
                const QRectF plate(box.center().x() - room / 2.0, box.top() + 4.0, room, box.height() - 8.0);
                painter.fillRect(plate, colours().paper);
                painter.setPen(colours().graphite);
                painter.drawText(plate, Qt::AlignCenter, number);
            }
        }
        write(all[i].legend, legend(bar), false, colours().graphite);
        write(all[i].words, text_of(bar.words), false, colours().pencil);
    }
    painter.restore();
}

}  // namespace sillwright::app
