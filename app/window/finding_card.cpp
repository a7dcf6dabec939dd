#include "app/window/finding_card.h"

#include <QAbstractScrollArea>
#include <QFontMetricsF>
#include <QPainter>
#include <algorithm>
#include <cmath>
#include <vector>

#include "app/finding_look.h"
#include "app/looks.h"
#include "app/window/findings_model.h"

namespace sillwright::app {

namespace {

constexpr int k_text = 16;
constexpr int k_margin_text = 22;
constexpr double k_pad = 12.0;
constexpr double k_gap = 4.0;     ///< Between two paragraphs.
constexpr double k_shape = 18.0;  ///< Width of the state's shape.
constexpr double k_indent = k_pad + k_shape + 10.0;

/// One paragraph of a card, in its place.
struct Paragraph {
    QString text;
    QFont font;
    QColor colour;
    QRectF box;
};

/// A card's text, set for a width, from the top left corner of the card.
struct Card {
    std::vector<Paragraph> paragraphs;
    QString margin;
    QRectF margin_box;
    double height = 0.0;
};

void add(Card& card, const QString& text, const QFont& font, const QColor& colour, double width) {
    if (text.isEmpty()) {
        return;
    }
    const QRectF room(k_indent, card.height, std::max(width, 1.0), 1.0e6);
    QRectF box = QFontMetricsF(font).boundingRect(room, Qt::TextWordWrap, text);
    box.setWidth(room.width());
    card.paragraphs.push_back({text, font, colour, box});
    card.height = box.bottom() + k_gap;
}

QString joined(const std::vector<std::string>& parts) {
    QStringList list;
    for (const std::string& part : parts) {
        if (!part.empty()) {
            list += QString::fromStdString(part);
        }
    }
    return list.join(QStringLiteral(" · "));
}

Card set_card(const core::Finding& finding, double width) {
    const FindingNumbers numbers = numbers_of(finding);
    const QFont text = looks::font(k_text);
    Card card;
    card.margin = QString::fromStdString(numbers.margin);
    const QFontMetricsF large(looks::font(k_margin_text, true));
    const double margin_width = card.margin.isEmpty() ? 0.0 : std::ceil(large.horizontalAdvance(card.margin)) + 2.0;
    card.margin_box = QRectF(width - k_pad - margin_width, k_pad, margin_width, large.height());
    const double full = width - k_indent - k_pad;
    const double beside_margin = full - (margin_width > 0.0 ? margin_width + k_pad : 0.0);

    card.height = k_pad;
    add(card, QString::fromStdString(finding.title), looks::font(k_text, true),
        looks::colours(looks::Tone::light).graphite, beside_margin);
    add(card, QString::fromStdString(look(finding.state).word), text,
        looks::text_colour(finding.state, looks::Tone::light), beside_margin);
    card.height = std::max(card.height, card.margin_box.bottom() + k_gap);
    add(card, joined({numbers.found, numbers.needs}), text, looks::colours(looks::Tone::light).pencil, full);
    add(card, QString::fromStdString(finding.place.words), text, looks::colours(looks::Tone::light).pencil, full);
    if (finding.state != core::State::holds) {
        add(card, QString::fromStdString(finding.why), text, looks::colours(looks::Tone::light).graphite, full);
    }
    for (const std::string& missing : finding.missing) {
        add(card, QObject::tr("measure: ") + QString::fromStdString(missing), text,
            looks::colours(looks::Tone::light).graphite, full);
    }
    if (finding.mend) {
        add(card, QObject::tr("mend: ") + QString::fromStdString(core::mend_words(finding)), text,
            looks::colours(looks::Tone::light).graphite, full);
    }
    card.height += k_pad - k_gap;
    return card;
}

/// Cards stand apart by twice this.
constexpr double k_apart = 4.0;

/// The view's width: while cards are measured, option.rect is not theirs yet.
double card_width(const QStyleOptionViewItem& option) {
    const auto* view = qobject_cast<const QAbstractScrollArea*>(option.widget);
    const int width = view == nullptr ? option.rect.width() : view->viewport()->width();
    return width - 2.0 * k_apart;
}

}  // namespace

FindingCard::FindingCard(QObject* parent) : QStyledItemDelegate(parent) {}

void FindingCard::paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const auto* model = qobject_cast<const FindingsModel*>(index.model());
    if (model == nullptr) {
        return;
    }
    const core::Finding& finding = model->finding(index.row());
    const Card card = set_card(finding, card_width(option));
    painter->save();
    painter->setRenderHint(QPainter::Antialiasing);
    painter->translate(option.rect.topLeft() + QPointF(k_apart, k_apart));
    const bool chosen = option.state.testFlag(QStyle::State_Selected);
    painter->setPen(QPen(chosen ? looks::colours(looks::Tone::light).graphite : looks::colours(looks::Tone::light).edge,
                         chosen ? 2.0 : 1.0));
    painter->setBrush(looks::colours(looks::Tone::light).paper);
    painter->drawRoundedRect(QRectF(0.0, 0.0, card_width(option), card.height), 8.0, 8.0);
    looks::draw_shape(*painter, QRectF(k_pad, k_pad + 1.0, k_shape, k_shape), finding.state, looks::Tone::light);
    for (const Paragraph& paragraph : card.paragraphs) {
        painter->setFont(paragraph.font);
        painter->setPen(paragraph.colour);
        painter->drawText(paragraph.box, Qt::TextWordWrap, paragraph.text);
    }
    painter->setFont(looks::font(k_margin_text, true));
    painter->setPen(looks::text_colour(finding.state, looks::Tone::light));
    painter->drawText(card.margin_box, Qt::AlignRight | Qt::AlignVCenter | Qt::TextDontClip, card.margin);
    painter->restore();
}

QSize FindingCard::sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const auto* model = qobject_cast<const FindingsModel*>(index.model());
    if (model == nullptr) {
        return {};
    }
    const Card card = set_card(model->finding(index.row()), card_width(option));
    return {static_cast<int>(card_width(option) + 2.0 * k_apart),
            static_cast<int>(std::ceil(card.height + 2.0 * k_apart))};
}

}  // namespace sillwright::app
