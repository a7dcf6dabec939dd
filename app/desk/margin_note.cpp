#include "app/desk/margin_note.h"

#include <QFontMetrics>
#include <QPainter>
#include <algorithm>

#include "app/looks.h"
#include "core/finding_words.h"

namespace sillwright::app {

namespace {

constexpr int k_shape = 18;
constexpr int k_between = 6;

int line_height(int pixels, bool bold) {
    return QFontMetrics(looks::font(pixels, bold)).height();
}

}  // namespace

MarginNote::MarginNote(const QString& caption, QWidget* parent) : QWidget(parent), caption_{caption} {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void MarginNote::show_finding(const core::Finding& finding, core::BareUnit unit) {
    state_ = finding.state;
    margin_ = QString::fromStdString(core::numbers_of(finding, unit).margin);
    word_ = QString::fromStdString(core::look(finding.state).word);
    setAccessibleName(words());
    update();
}

void MarginNote::show_words(const QString& words) {
    state_.reset();
    margin_.clear();
    word_ = words;
    setAccessibleName(this->words());
    update();
}

QString MarginNote::words() const {
    return caption_ + QStringLiteral(": ") + (margin_.isEmpty() ? word_ : margin_ + QStringLiteral(", ") + word_);
}

QSize MarginNote::sizeHint() const {
    return {150, 2 * line_height(looks::k_text, false) + line_height(looks::k_number, true)};
}

QSize MarginNote::minimumSizeHint() const {
    return {120, sizeHint().height()};
}

void MarginNote::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    const looks::Tone tone = looks::tone_of(palette());
    const looks::Colours& colours = looks::colours(tone);
    const int small = line_height(looks::k_text, false);
    painter.setFont(looks::font(looks::k_text));
    painter.setPen(colours.pencil);
    painter.drawText(QRect(0, 0, width(), small), Qt::AlignLeft | Qt::AlignVCenter, caption_);
    if (!state_) {
        painter.drawText(QRect(0, small, width(), height() - small), Qt::AlignLeft | Qt::TextWordWrap, word_);
        return;
    }
    const int large = line_height(looks::k_number, true);
    painter.setPen(looks::text_colour(*state_, tone));
    painter.setFont(looks::font(looks::k_number, true));
    painter.drawText(QRect(0, small, width(), large), Qt::AlignLeft | Qt::AlignVCenter, margin_);
    const int top = small + large;
    looks::draw_shape(painter, QRectF(0.0, top + (small - k_shape) / 2.0, k_shape, k_shape), *state_, tone);
    painter.setFont(looks::font(looks::k_text));
    painter.drawText(QRect(k_shape + k_between, top, width() - k_shape - k_between, small),
                     Qt::AlignLeft | Qt::AlignVCenter, word_);
}

}  // namespace sillwright::app
