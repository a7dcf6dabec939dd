#include "app/desk/finding_card.h"

#include <QAbstractScrollArea>
#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>
#include <QTextLayout>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include "app/desk/findings_model.h"
#include "app/finding_look.h"
#include "app/looks.h"
#include "app/text_of.h"

namespace sillwright::app {

using core::Finding;
using core::State;

namespace {

constexpr double k_pad = 10.0;
constexpr double k_gap = 3.0;     ///< Between two paragraphs.
constexpr double k_shape = 18.0;  ///< Width of the state's shape.
constexpr double k_indent = k_pad + k_shape + 10.0;
constexpr double k_bar_height = 8.0;
constexpr double k_bar_mark = 12.0;  ///< The state's shape on the bar.
constexpr double k_fold = 16.0;      ///< Room for the mark that a card opens.
constexpr double k_corner = 8.0;
constexpr double k_pale = 0.6;  ///< What is of an earlier state of the job.

/// One paragraph of a card, laid out; anew only if it reads otherwise.
class Paragraph {
public:
    void lay(const QString& text, const QFont& font, double width) {
        if (layout_ && layout_->text() == text && width_ == width) {
            return;
        }
        layout_ = std::make_unique<QTextLayout>(text, font);
        QTextOption option;
        option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);
        layout_->setTextOption(option);
        width_ = width;
        height_ = 0.0;
        layout_->beginLayout();
        for (QTextLine line = layout_->createLine(); line.isValid(); line = layout_->createLine()) {
            line.setLineWidth(width);
            line.setPosition({0.0, height_});
            height_ += line.height();
        }
        layout_->endLayout();
    }

    /// Returns where the next paragraph begins.
    double put(double top) {
        top_ = top;
        return text().isEmpty() ? top : top + height_ + k_gap;
    }

    [[nodiscard]] QString text() const { return layout_ ? layout_->text() : QString(); }

    void draw(QPainter& painter, const QColor& colour) const {
        if (layout_) {
            painter.setPen(colour);
            layout_->draw(&painter, {k_indent, top_});
        }
    }

private:
    std::unique_ptr<QTextLayout> layout_;
    double width_ = 0.0, height_ = 0.0, top_ = 0.0;
};

/// "measure: the sag of the front door (2 more)"
QString missing_words(const Finding& finding) {
    if (finding.missing.empty()) {
        return {};
    }
    QString words = QObject::tr("measure: ") + text_of(finding.missing.front());
    if (finding.missing.size() > 1) {
        words += QObject::tr(" (%n more)", nullptr, static_cast<int>(finding.missing.size()) - 1);
    }
    return words;
}

const looks::Colours& colours_of(const QStyleOptionViewItem& option) {
    return looks::colours(looks::tone_of(option.palette));
}

/// The view's width: while cards are measured, option.rect is not theirs yet.
double card_width(const QStyleOptionViewItem& option) {
    const auto* view = qobject_cast<const QAbstractScrollArea*>(option.widget);
    const int width = view == nullptr ? option.rect.width() : view->viewport()->width();
    return width - 2.0 * FindingCard::k_apart;
}

/// The side that falls short hatched, the limit a thick tick, found the state's shape.
void draw_bar(QPainter& painter, const QRectF& bar, const Finding& finding, double place, looks::Tone tone) {
    const looks::Colours& colours = looks::colours(tone);
    const double middle = bar.center().x();
    const QRectF short_side = finding.at_least ? QRectF(bar.topLeft(), QPointF(middle, bar.bottom()))
                                               : QRectF(QPointF(middle, bar.top()), bar.bottomRight());
    painter.setRenderHint(QPainter::Antialiasing, false);
    painter.fillRect(short_side, QBrush(colours.pencil, Qt::BDiagPattern));
    painter.setPen(QPen(colours.edge, 1.0));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(bar);
    painter.fillRect(QRectF(middle - 1.0, bar.top() - 3.0, 3.0, bar.height() + 7.0), colours.graphite);
    const double x =
        std::clamp(bar.left() + place * bar.width(), bar.left() + k_bar_mark / 2.0, bar.right() - k_bar_mark / 2.0);
    const QRectF mark(x - k_bar_mark / 2.0, bar.center().y() - k_bar_mark / 2.0, k_bar_mark, k_bar_mark);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(Qt::NoPen);
    painter.setBrush(colours.paper);
    painter.drawEllipse(mark.adjusted(-2.0, -2.0, 2.0, 2.0));  // so that the shape stands off the hatching
    looks::draw_shape(painter, mark, finding.state, tone);
}

/// Points to the side on a folded card, down on an open one.
void draw_fold_mark(QPainter& painter, const QPointF& middle, bool open, const QColor& colour) {
    constexpr double k_half = 4.5;
    const QPolygonF mark = open ? QPolygonF({middle + QPointF(-k_half, -0.6 * k_half),
                                             middle + QPointF(k_half, -0.6 * k_half), middle + QPointF(0.0, k_half)})
                                : QPolygonF({middle + QPointF(-0.6 * k_half, -k_half), middle + QPointF(k_half, 0.0),
                                             middle + QPointF(-0.6 * k_half, k_half)});
    painter.setPen(Qt::NoPen);
    painter.setBrush(colour);
    painter.drawPolygon(mark);
}

}  // namespace

/// A card's text, set for a width, from the top left corner of the card.
struct FindingCard::Card {
    std::uint64_t version = 0;
    double width = 0.0;
    Paragraph title, state, numbers, missing, place;
    QString margin;
    QRectF margin_box;
    std::optional<double> bar;
    QRectF bar_box;
    double fold_at = 0.0;  ///< Height of the mark that it opens.
    double height = 0.0;

    void set(const Finding& finding, core::BareUnit unit) {
        const core::FindingNumbers shown = core::numbers_of(finding, unit);
        static const QFont text = looks::font(looks::k_text);
        static const QFont strong = looks::font(looks::k_text, true);
        static const QFontMetricsF large(looks::font(looks::k_number, true));
        margin = text_of(shown.margin);
        const double margin_width = margin.isEmpty() ? 0.0 : std::ceil(large.horizontalAdvance(margin)) + 2.0;
        const double full = std::max(1.0, width - k_indent - k_pad);
        title.lay(text_of(finding.title), strong, full);
        state.lay(text_of(look(finding.state).word), text,
                  std::max(1.0, full - (margin_width > 0.0 ? margin_width + k_pad : 0.0)));
        numbers.lay(text_of(core::joined({shown.found, shown.needs}, " · ")), text, full);
        missing.lay(missing_words(finding), text, full);
        place.lay(text_of(finding.place.words), text, std::max(1.0, full - k_fold));
        double y = title.put(k_pad);
        margin_box = QRectF(width - k_pad - margin_width, y - k_gap, margin_width, large.height());
        // Both stand on one line: the small letters lower by half of what the large ones are higher.
        y = state.put(margin.isEmpty() ? y : y + (large.height() - QFontMetricsF(text).height()) / 2.0 - k_gap);
        if (!margin.isEmpty()) {
            y = std::max(y, margin_box.bottom());
        }
        y = place.put(missing.put(numbers.put(y)));
        fold_at = y - k_gap - large.height() / 2.0 + 4.0;
        bar = bar_place(finding);
        if (bar) {
            bar_box = QRectF(k_indent, y + 4.0, full, k_bar_height);
            y = bar_box.bottom() + 2.0 * k_gap;
        }
        height = std::ceil(y + k_pad - k_gap);
    }
};

FindingCard::FindingCard(QObject* parent) : QStyledItemDelegate(parent) {}

FindingCard::~FindingCard() = default;

void FindingCard::set_open(const std::string& id, int sheet_height) {
    open_id_ = id;
    sheet_height_ = sheet_height;
}

const FindingCard::Card& FindingCard::card_of(const QModelIndex& index, double width) const {
    const auto* model = qobject_cast<const FindingsModel*>(index.model());
    const Finding& finding = model->finding(index.row());
    std::unique_ptr<Card>& card = cards_[finding.id];
    if (!card) {
        card = std::make_unique<Card>();
    }
    if (card->version != model->version(index.row()) || card->width != width) {
        card->version = model->version(index.row());
        card->width = width;
        card->set(finding, model->unit());
    }
    return *card;
}

void FindingCard::paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const auto* model = qobject_cast<const FindingsModel*>(index.model());
    if (model == nullptr) {
        return;
    }
    const Finding& finding = model->finding(index.row());
    const Card& card = card_of(index, card_width(option));
    const looks::Colours& colours = colours_of(option);
    const looks::Tone tone = looks::tone_of(option.palette);
    const bool open = finding.id == open_id_;
    const double height = option.rect.height() - 2.0 * k_apart;

    painter->save();
    painter->setRenderHint(QPainter::Antialiasing);
    painter->translate(option.rect.topLeft() + QPointF(k_apart, k_apart));
    const bool chosen = option.state.testFlag(QStyle::State_Selected);
    const bool in_hand = option.state.testFlag(QStyle::State_HasFocus);
    painter->setPen(QPen(chosen || in_hand ? colours.graphite : colours.edge, chosen || in_hand ? 2.5 : 1.0,
                         in_hand && !chosen ? Qt::DashLine : Qt::SolidLine));
    painter->setBrush(colours.paper);
    painter->drawRoundedRect(QRectF(1.0, 1.0, card.width - 2.0, height - 2.0), k_corner, k_corner);
    painter->setOpacity(model->stale() ? k_pale : 1.0);
    looks::draw_shape(*painter, QRectF(k_pad, k_pad + 1.0, k_shape, k_shape), finding.state, tone);
    card.title.draw(*painter, colours.graphite);
    card.numbers.draw(*painter, colours.pencil);
    card.missing.draw(*painter, colours.graphite);
    card.place.draw(*painter, colours.pencil);
    card.state.draw(*painter, looks::text_colour(finding.state, tone));
    painter->setFont(looks::font(looks::k_number, true));
    painter->setPen(looks::text_colour(finding.state, tone));
    painter->drawText(card.margin_box, Qt::AlignRight | Qt::AlignVCenter | Qt::TextDontClip, card.margin);
    draw_fold_mark(*painter, QPointF(card.width - k_pad - k_fold / 2.0, card.fold_at), open, colours.pencil);
    if (card.bar) {
        draw_bar(*painter, card.bar_box, finding, *card.bar, tone);
    }
    painter->restore();
}

QSize FindingCard::sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const auto* model = qobject_cast<const FindingsModel*>(index.model());
    if (model == nullptr) {
        return {};
    }
    const double width = card_width(option);
    const Card& card = card_of(index, width);
    const int sheet = model->finding(index.row()).id == open_id_ ? sheet_height_ : 0;
    return {static_cast<int>(width) + 2 * k_apart, static_cast<int>(card.height) + sheet + 2 * k_apart};
}

std::optional<double> bar_place(const Finding& finding) {
    if (!finding.found || !finding.required || *finding.required == 0.0) {
        return std::nullopt;
    }
    const double limit = *finding.required;
    return std::clamp(0.5 + (*finding.found - limit) / (2.0 * std::abs(limit)), 0.0, 1.0);
}

}  // namespace sillwright::app
