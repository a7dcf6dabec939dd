#include "app/desk/book_desk.h"

#include <QApplication>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPainter>
#include <QPushButton>
#include <QStyledItemDelegate>
#include <QTableView>
#include <QVBoxLayout>
#include <algorithm>
#include <array>
#include <utility>

#include "app/desk/book_model.h"
#include "app/desk/focus.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/looks.h"
#include "app/text_of.h"
#include "core/edit/book_edit.h"

namespace sillwright::app {

namespace {

constexpr int k_room_in_cell = 14;
constexpr int k_least_rows = 2;   ///< Of which one is the head.
constexpr int k_bold_part = 108;  ///< In a hundred: rows about the chosen point are bold.
constexpr int k_shape = 15;
constexpr int k_bar_width = 60;
constexpr int k_number_width = 42;
constexpr int k_widest_column = 420;

QPushButton* button(const QString& text, const char* name) {
    auto* made = new QPushButton(text);
    made->setObjectName(QLatin1String(name));
    made->setAccessibleName(text);
    made->setFont(looks::font(looks::k_text));
    made->setMinimumHeight(looks::k_target);
    return made;
}

/// Cells with a state's shape before their word, and the misfit with its bar.
class BookCell : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        const looks::Tone tone = looks::tone_of(option.palette);
        if (const QVariant misfit = index.data(BookModel::MisfitRole); misfit.isValid()) {
            paint_cell(painter, option, index, 0);
            paint_bar(painter, option, misfit.toDouble(), tone);
            return;
        }
        const QVariant state = index.data(BookModel::StateRole);
        paint_cell(painter, option, index, state.isValid() ? k_shape + 6 : 0);
        if (state.isValid()) {
            const QRectF box(option.rect.left() + 4.0, option.rect.center().y() - k_shape / 2.0, k_shape, k_shape);
            painter->save();
            painter->setPen(Qt::NoPen);
            painter->setBrush(looks::colours(tone).paper);
            painter->drawEllipse(box.adjusted(-2.0, -2.0, 2.0, 2.0));  // stands off a chosen row
            painter->restore();
            looks::draw_shape(*painter, box, static_cast<core::State>(state.toInt()), tone);
        }
    }

    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        QSize size = QStyledItemDelegate::sizeHint(option, index);
        if (index.column() == BookModel::Misfit) {
            size.setWidth(k_number_width + k_bar_width);
        } else if (index.data(BookModel::StateRole).isValid()) {
            size.rwidth() += k_shape + 6;
        }
        return size;
    }

private:
    void paint_cell(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index, int indent) const {
        QStyleOptionViewItem inner = option;
        initStyleOption(&inner, index);
        const QString text = std::exchange(inner.text, QString());
        const QWidget* widget = option.widget;
        QStyle* style = widget != nullptr ? widget->style() : QApplication::style();
        style->drawControl(QStyle::CE_ItemViewItem, &inner, painter, widget);
        painter->save();
        painter->setFont(inner.font);
        const bool chosen = option.state.testFlag(QStyle::State_Selected);
        painter->setPen(option.palette.color(chosen ? QPalette::HighlightedText : QPalette::Text));
        const QRect room = option.rect.adjusted(4 + indent, 0, -4, 0);
        painter->drawText(room, static_cast<int>(inner.displayAlignment),
                          painter->fontMetrics().elidedText(text, Qt::ElideRight, room.width()));
        painter->restore();
    }

    /// Against the limit, which is the tick; twice the limit fills it.
    static void paint_bar(QPainter* painter, const QStyleOptionViewItem& option, double misfit, looks::Tone tone) {
        const bool over = misfit > core::survey::k_blunder_w;
        const QRectF bar(option.rect.left() + k_number_width, option.rect.center().y() - 5.0,
                         option.rect.width() - k_number_width - 8.0, 10.0);
        const double part = std::min(1.0, misfit / (2.0 * core::survey::k_blunder_w));
        const looks::Colours& colours = looks::colours(tone);
        painter->save();
        painter->fillRect(bar, colours.paper);
        painter->fillRect(QRectF(bar.topLeft(), QSizeF(part * bar.width(), bar.height())),
                          over ? looks::shape_colour(core::State::falls_short, tone) : colours.pencil);
        painter->setPen(QPen(colours.edge, 1.0));
        painter->drawRect(bar);
        painter->fillRect(QRectF(bar.center().x() - 1.0, bar.top() - 3.0, 2.0, bar.height() + 6.0), colours.graphite);
        painter->restore();
    }
};

}  // namespace

BookDesk::BookDesk(OpenBook& book, Focus& focus, QWidget* parent)
    : QWidget(parent),
      book_{book},
      focus_{focus},
      model_{new BookModel(book, this)},
      view_{new QTableView},
      drop_{button(tr("Drop it…"), "dropReading")},
      take_back_{button(tr("Take it back"), "takeBackReading")},
      correct_{button(tr("Correct it…"), "correctReading")},
      buttons_{make_buttons()},
      reason_row_{nullptr},
      reason_head_{new QLabel},
      reason_{new QLineEdit},
      refusal_{new QLabel} {
    setObjectName(QStringLiteral("bookDesk"));
    reason_row_ = make_reason();
    make_view();
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addWidget(view_, 1);
    column->addWidget(buttons_);
    column->addWidget(reason_row_);
    reason_row_->hide();
    connect(&book_, &OpenBook::changed, this, &BookDesk::follow_book);
    connect(&focus_, &Focus::chose, this, &BookDesk::follow_focus);
    connect(&book_.job(), &OpenJob::opened, this, &BookDesk::leave_reason);
    connect(&book_.job(), &OpenJob::opened, this, &BookDesk::fit_columns, Qt::QueuedConnection);  // its rows are there
    fit_columns();
    follow_book();
}

void BookDesk::make_view() {
    view_->setObjectName(QStringLiteral("bookTable"));
    view_->setAccessibleName(tr("The measuring book"));
    view_->setFont(looks::font(looks::k_text));
    // Before the view's own: rows that go must not choose others.
    connect(model_, &BookModel::rowsAboutToBeRemoved, this, [this] { following_ = true; });
    view_->setModel(model_);
    connect(model_, &BookModel::rowsRemoved, this, [this] { following_ = false; });
    view_->setItemDelegate(new BookCell(view_));
    view_->setSelectionBehavior(QAbstractItemView::SelectRows);
    view_->setSelectionMode(QAbstractItemView::SingleSelection);
    view_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    view_->setTabKeyNavigation(false);
    view_->setMinimumHeight(k_least_rows * looks::k_target);
    view_->setWordWrap(false);
    view_->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    view_->verticalHeader()->setDefaultSectionSize(looks::k_target);
    view_->verticalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    view_->verticalHeader()->hide();
    view_->horizontalHeader()->setMinimumHeight(looks::k_target);
    view_->horizontalHeader()->setFont(looks::font(looks::k_text));
    view_->horizontalHeader()->setHighlightSections(false);
    view_->horizontalHeader()->setMaximumSectionSize(k_widest_column);
    view_->installEventFilter(this);
    connect(view_->selectionModel(), &QItemSelectionModel::currentRowChanged, this, &BookDesk::choose_row);
}

QWidget* BookDesk::make_buttons() {
    auto* buttons = new QWidget;
    auto* row = new QHBoxLayout(buttons);
    row->setContentsMargins(8, 0, 8, 0);
    for (QPushButton* one : {drop_, take_back_, correct_}) {
        row->addWidget(one);
        one->setEnabled(false);
    }
    row->addStretch(1);
    connect(drop_, &QPushButton::clicked, this, [this] { ask_drop(chosen()); });
    connect(take_back_, &QPushButton::clicked, this, &BookDesk::take_back);
    connect(correct_, &QPushButton::clicked, this, [this] { emit correct_wanted(chosen()); });
    return buttons;
}

/// Stands in the buttons' place while a reason is asked for.
QWidget* BookDesk::make_reason() {
    auto* row = new QWidget;
    row->setObjectName(QStringLiteral("reasonRow"));
    reason_head_->setFont(looks::font(looks::k_text, true));
    reason_head_->setObjectName(QStringLiteral("reasonHead"));
    reason_->setObjectName(QStringLiteral("dropReason"));
    reason_->setAccessibleName(tr("Why the reading is dropped"));
    reason_->setPlaceholderText(tr("why: misread, tape slack, wrong hole"));
    reason_->setFont(looks::font(looks::k_text));
    reason_->setMinimumHeight(looks::k_target);
    reason_->installEventFilter(this);
    refusal_->setObjectName(QStringLiteral("dropRefusal"));
    refusal_->setFont(looks::font(looks::k_text));
    refusal_->setWordWrap(true);
    refusal_->hide();
    auto* yes = button(tr("Drop it"), "confirmDrop");
    auto* no = button(tr("Leave it"), "leaveDrop");
    auto* line = new QHBoxLayout;
    line->addWidget(reason_head_);
    line->addWidget(reason_, 1);
    line->addWidget(yes);
    line->addWidget(no);
    auto* column = new QVBoxLayout(row);
    column->setContentsMargins(0, 0, 0, 0);
    column->addLayout(line);
    column->addWidget(refusal_);
    connect(yes, &QPushButton::clicked, this, &BookDesk::drop);
    connect(no, &QPushButton::clicked, this, &BookDesk::leave_reason);
    connect(reason_, &QLineEdit::returnPressed, this, &BookDesk::drop);
    return row;
}

void BookDesk::fit_columns() {
    view_->ensurePolished();
    view_->resizeColumnsToContents();
    for (int column = 0; column < BookModel::ColumnCount; ++column) {
        view_->setColumnWidth(column, view_->columnWidth(column) * k_bold_part / 100 + k_room_in_cell);
    }
}

std::string BookDesk::chosen() const {
    return view_->selectionModel()->hasSelection() ? model_->id(view_->currentIndex().row()) : std::string();
}

void BookDesk::show_last() {
    view_->scrollToBottom();
}

void BookDesk::choose_row() {
    if (!following_) {
        if (const std::string id = model_->id(view_->currentIndex().row()); !id.empty()) {
            focus_.choose({Item::Kind::reading, id});
        }
    }
    follow_book();
}

void BookDesk::follow_focus() {
    const Item& item = focus_.chosen();
    model_->mark_point(item.kind == Item::Kind::point || item.kind == Item::Kind::mount ? item.id : std::string());
    std::optional<int> row;
    if (item.kind == Item::Kind::reading) {
        row = model_->row_of(item.id);
    } else if (item.kind == Item::Kind::point || item.kind == Item::Kind::mount) {
        if (const auto about = model_->row_about(item.id)) {
            view_->scrollTo(model_->index(*about, 0));
        }
    }
    if (row && (*row != view_->currentIndex().row() || chosen().empty())) {
        const bool before = std::exchange(following_, true);
        view_->selectRow(*row);
        view_->scrollTo(model_->index(*row, 0));
        following_ = before;
    }
    follow_book();
}

void BookDesk::follow_book() {
    // A column grows with what stands in it and never shrinks under a hand.
    for (const int column : {BookModel::Number, BookModel::Kind, BookModel::Points, BookModel::Value,
                             BookModel::Adjusted, BookModel::Difference, BookModel::Misfit, BookModel::Checked}) {
        const int last = model_->rowCount() - 1;
        for (int row = std::max(0, last - 1); row <= last; ++row) {
            QStyleOptionViewItem option;
            option.initFrom(view_);
            option.font = looks::font(looks::k_text, true);
            option.fontMetrics = QFontMetrics(option.font);
            const int wide = std::min(
                k_widest_column, option.fontMetrics.horizontalAdvance(model_->index(row, column).data().toString()) +
                                     k_room_in_cell + (column == BookModel::Checked ? k_shape + 6 : 0) +
                                     (column == BookModel::Misfit ? k_bar_width : 0));
            if (wide > view_->columnWidth(column)) {
                view_->setColumnWidth(column, wide);
            }
        }
    }
    const std::string id = chosen();
    const auto& readings = book_.job().job().book.readings;
    const auto reading = std::find_if(readings.begin(), readings.end(), [&](const auto& one) { return one.id == id; });
    const bool there = reading != readings.end();
    const bool dropped = there && !reading->dropped.empty();
    drop_->setEnabled(there && !dropped);
    take_back_->setEnabled(dropped);
    correct_->setEnabled(there && !dropped);
}

void BookDesk::ask_drop(const std::string& id) {
    const auto row = model_->row_of(id);
    if (!row) {
        return;
    }
    dropping_ = id;
    reason_head_->setText(tr("Reading %1 is dropped, because:").arg(*row + 1));
    reason_->clear();
    refusal_->hide();
    buttons_->hide();
    reason_row_->show();
    view_->scrollTo(model_->index(*row, 0));
    reason_->setFocus();
}

void BookDesk::drop() {
    const auto edit = core::drop_reading(book_.job().job(), dropping_, reason_->text().trimmed().toStdString());
    if (!edit) {
        refusal_->setText(text_of(edit.error().message));
        refusal_->show();
        reason_->setFocus();
        return;
    }
    leave_reason();
    book_.job().apply(edit);
}

void BookDesk::leave_reason() {
    if (reason_row_->isHidden()) {
        return;
    }
    dropping_.clear();
    reason_row_->hide();
    buttons_->show();
    view_->setFocus();
}

void BookDesk::take_back() {
    if (const std::string id = chosen(); !id.empty()) {
        book_.job().apply(core::take_back_reading(book_.job().job(), id));
    }
}

bool BookDesk::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() != QEvent::KeyPress) {
        return QWidget::eventFilter(watched, event);
    }
    const auto* key = static_cast<QKeyEvent*>(event);
    if (watched == reason_ && key->key() == Qt::Key_Escape) {
        leave_reason();
        return true;
    }
    if (watched == view_ && key->matches(QKeySequence::Delete) && drop_->isEnabled()) {
        ask_drop(chosen());
        return true;
    }
    if (watched == view_ && (key->key() == Qt::Key_Return || key->key() == Qt::Key_F2) && correct_->isEnabled()) {
        emit correct_wanted(chosen());
        return true;
    }
    return QWidget::eventFilter(watched, event);
}

}  // namespace sillwright::app
