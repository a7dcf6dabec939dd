#include "app/drawings/differences_drawing.h"

#include <QFontMetricsF>
#include <QResizeEvent>
#include <algorithm>
#include <array>
#include <cmath>

#include "app/text_of.h"

namespace sillwright::app {

namespace {

constexpr double k_edge = 14.0;
constexpr double k_row = 30.0;
constexpr double k_name = 90.0;
constexpr double k_number = 66.0;  ///< One of along, out, up.
constexpr double k_words = 150.0;  ///< State's word behind the bar.
constexpr double k_gap = 8.0;
constexpr int k_large = 26;

double text_height(const QString& text, double width, int pixels, bool bold) {
    return text.isEmpty() ? 0.0
                          : std::ceil(QFontMetricsF(looks::font(pixels, bold))
                                          .boundingRect(QRectF(0.0, 0.0, width, 1e4), Qt::TextWordWrap, text)
                                          .height());
}

QString number(double mm) {
    const QString text = QString::number(mm, 'f', 1);
    return text == QLatin1String("-0.0") ? QStringLiteral("0.0") : QString(text).replace('-', QChar(0x2212));
}

}  // namespace

DifferencesDrawing::DifferencesDrawing(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("differencesDrawing"));
    setAccessibleName(tr("Differences of two sets of points"));
    QSizePolicy policy(QSizePolicy::Expanding, QSizePolicy::Minimum);
    policy.setHeightForWidth(true);
    setSizePolicy(policy);
}

void DifferencesDrawing::set_picture(DifferencesPicture picture) {
    if (picture == picture_) {
        return;
    }
    picture_ = std::move(picture);
    QStringList words{text_of(picture_.heading), text_of(picture_.verdict), text_of(picture_.words)};
    for (const DifferenceRow& row : picture_.rows) {
        words << tr("%1: %2 mm apart, at most %3, %4")
                     .arg(text_of(row.name), number(row.distance_mm), number(row.bound_mm), text_of(row.words));
    }
    setAccessibleDescription(words.join(QStringLiteral(". ")));
    setMinimumHeight(heightForWidth(width()));
    updateGeometry();
    update();
}

QString DifferencesDrawing::title() const {
    return text_of(picture_.heading);
}

DifferencesDrawing::Layout DifferencesDrawing::lay_out(double width) const {
    const double wide = std::max(1.0, width - 2.0 * k_edge);
    Layout layout;
    layout.heading = QRectF(k_edge, k_edge, wide, text_height(text_of(picture_.heading), wide, looks::k_text, true));
    const double indent = k_large + k_gap;
    layout.verdict = QRectF(k_edge + indent, layout.heading.bottom() + k_gap, wide - indent,
                            text_height(text_of(picture_.verdict), wide - indent, k_large, true));
    layout.words = QRectF(k_edge, layout.verdict.bottom() + k_gap, wide,
                          text_height(text_of(picture_.words), wide, looks::k_text, false));
    layout.table = layout.words.bottom() + k_gap;
    layout.bar_left = k_edge + k_name + 3.0 * k_number + k_gap;
    layout.bar_right = std::max(layout.bar_left + 40.0, width - k_edge - k_words);
    const auto rows = static_cast<double>(picture_.rows.size());
    layout.bottom = picture_.rows.empty() ? layout.table + k_edge : layout.table + (rows + 1.0) * k_row + k_edge;
    return layout;
}

int DifferencesDrawing::heightForWidth(int width) const {
    return static_cast<int>(std::ceil(lay_out(width).bottom));
}

QSize DifferencesDrawing::sizeHint() const {
    return {640, heightForWidth(640)};
}

void DifferencesDrawing::resizeEvent(QResizeEvent* event) {
    Paper::resizeEvent(event);
    setMinimumHeight(heightForWidth(event->size().width()));
}

void DifferencesDrawing::draw(QPainter& painter, const QSizeF& sheet) const {
    const Layout layout = lay_out(sheet.width());
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(QRectF({}, sheet), colours().paper);
    painter.setFont(looks::font(looks::k_text, true));
    painter.setPen(colours().graphite);
    painter.drawText(layout.heading, Qt::TextWordWrap, text_of(picture_.heading));
    if (!picture_.verdict.empty()) {
        looks::draw_shape(painter, QRectF(k_edge, layout.verdict.top() + 4.0, k_large - 2.0, k_large - 2.0),
                          picture_.state, tone());
        painter.setFont(looks::font(k_large, true));
        painter.setPen(looks::text_colour(picture_.state, tone()));
        painter.drawText(layout.verdict, Qt::TextWordWrap, text_of(picture_.verdict));
    }
    painter.setFont(looks::font(looks::k_text));
    painter.setPen(colours().graphite);
    painter.drawText(layout.words, Qt::TextWordWrap, text_of(picture_.words));
    if (!picture_.rows.empty()) {
        double most = 1.5 * picture_.limit_mm;
        for (const DifferenceRow& row : picture_.rows) {
            most = std::max({most, row.bound_mm, row.distance_mm});
        }
        painter.setPen(colours().pencil);
        const std::array heads{tr("along"), tr("out"), tr("up")};
        double x = k_edge + k_name;
        for (const QString& head : heads) {
            painter.drawText(QRectF(x, layout.table, k_number, k_row), Qt::AlignRight | Qt::AlignVCenter, head);
            x += k_number;
        }
        const double limit = layout.bar_left + picture_.limit_mm / most * (layout.bar_right - layout.bar_left);
        painter.drawText(QRectF(limit - 60.0, layout.table, 120.0, k_row), Qt::AlignCenter,
                         tr("%1 mm").arg(picture_.limit_mm));
        for (std::size_t i = 0; i < picture_.rows.size(); ++i) {
            draw_row(painter, layout, i, most);
        }
        painter.setPen(QPen(colours().graphite, 2.0));
        painter.drawLine(QPointF(limit, layout.table + k_row),
                         QPointF(limit, layout.table + (1.0 + static_cast<double>(picture_.rows.size())) * k_row));
    }
    painter.restore();
}

void DifferencesDrawing::draw_row(QPainter& painter, const Layout& layout, std::size_t at, double most_mm) const {
    const DifferenceRow& row = picture_.rows[at];
    const double top = layout.table + (1.0 + static_cast<double>(at)) * k_row;
    painter.setPen(QPen(colours().edge, 1.0));
    painter.drawLine(QPointF(k_edge, top), QPointF(layout.bar_right + k_words, top));
    painter.setFont(looks::font(looks::k_text, true));
    painter.setPen(colours().graphite);
    painter.drawText(QRectF(k_edge, top, k_name, k_row), Qt::AlignLeft | Qt::AlignVCenter,
                     QFontMetricsF(painter.font()).elidedText(text_of(row.name), Qt::ElideRight, k_name));
    painter.setFont(looks::font(looks::k_text));
    for (int axis = 0; axis < 3; ++axis) {
        painter.drawText(QRectF(k_edge + k_name + axis * k_number, top, k_number, k_row),
                         Qt::AlignRight | Qt::AlignVCenter, number(row.difference_mm[axis]));
    }
    const double pixels = (layout.bar_right - layout.bar_left) / most_mm;
    const double middle = top + k_row / 2.0;
    // What is found filled, what it may be at most open.
    painter.setPen(QPen(colours().pencil, 1.2));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(QRectF(layout.bar_left, middle - 6.0, row.bound_mm * pixels, 12.0));
    painter.fillRect(QRectF(layout.bar_left, middle - 6.0, row.distance_mm * pixels, 12.0), colours().pencil);
    looks::draw_shape(painter, QRectF(layout.bar_right + k_gap, middle - 8.0, 16.0, 16.0), row.state, tone());
    painter.setPen(looks::text_colour(row.state, tone()));
    painter.drawText(QRectF(layout.bar_right + k_gap + 22.0, top, k_words - k_gap - 22.0, k_row),
                     Qt::AlignLeft | Qt::AlignVCenter | Qt::TextDontClip, text_of(row.words));
}

}  // namespace sillwright::app
