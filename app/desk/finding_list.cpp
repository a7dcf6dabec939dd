#include "app/desk/finding_list.h"

#include <QKeyEvent>
#include <QScrollBar>

#include "app/desk/finding_card.h"
#include "app/desk/finding_sheet.h"
#include "app/desk/findings_model.h"

namespace sillwright::app {

FindingList::FindingList(FindingsModel& model, QWidget* parent)
    : QListView(parent), model_{model}, card_{new FindingCard(this)}, sheet_{new FindingSheet(viewport())} {
    setObjectName(QStringLiteral("findings"));
    setAccessibleName(tr("Findings, worst margin first"));
    setModel(&model_);
    setItemDelegate(card_);
    setResizeMode(QListView::Adjust);
    setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);  // so that the cards' width never jumps
    setFrameShape(QFrame::NoFrame);
    verticalScrollBar()->setSingleStep(24);
    sheet_->hide();
    connect(this, &QListView::clicked, this, &FindingList::press);
}

const std::string& FindingList::open_id() const {
    return card_->open_id();
}

std::optional<int> FindingList::open_row() const {
    return open_id().empty() ? std::nullopt : model_.row_of(open_id());
}

std::optional<int> FindingList::current_row() const {
    return currentIndex().isValid() ? std::optional(currentIndex().row()) : std::nullopt;
}

void FindingList::take_in_hand(int row) {
    const QModelIndex index = model_.index(row);
    setCurrentIndex(index);
    scrollTo(index);
}

void FindingList::open(const std::string& id) {
    const std::optional<int> row = model_.row_of(id);
    const int top_before = row ? visualRect(model_.index(*row)).top() : 0;
    card_->set_open(row ? id : std::string(), 0);
    read_again();
    doItemsLayout();
    if (row) {
        const QModelIndex index = model_.index(*row);
        verticalScrollBar()->setValue(verticalScrollBar()->value() + visualRect(index).top() - top_before);
        scrollTo(index);
    }
    place_sheet();
}

void FindingList::read_again() {
    const std::optional<int> row = open_row();
    if (row) {
        sheet_->show_finding(model_.finding(*row));
        card_->set_open(open_id(), sheet_->height_at(sheet_width()));
    }
    scheduleDelayedItemsLayout();
}

int FindingList::sheet_width() const {
    return viewport()->width() - 2 * FindingCard::k_apart - 2;
}

void FindingList::place_sheet() {
    const std::optional<int> row = open_row();
    sheet_->setVisible(row.has_value());
    if (!row || placing_) {
        return;
    }
    placing_ = true;
    const QRect card = visualRect(model_.index(*row));
    const int height = sheet_->height_at(sheet_width());
    sheet_->setGeometry(card.left() + FindingCard::k_apart + 1, card.bottom() + 1 - FindingCard::k_apart - height,
                        sheet_width(), height);
    placing_ = false;
}

void FindingList::updateGeometries() {
    QListView::updateGeometries();
    if (const std::optional<int> row = open_row()) {
        // Another width may ask for another height.
        const int height = sheet_->height_at(sheet_width());
        if (visualRect(model_.index(*row)).isValid() && card_->sheet_height() != height) {
            card_->set_open(open_id(), height);
            scheduleDelayedItemsLayout();
        }
    }
    place_sheet();
}

void FindingList::scrollContentsBy(int dx, int dy) {
    QListView::scrollContentsBy(dx, dy);
    place_sheet();
}

void FindingList::keyPressEvent(QKeyEvent* event) {
    switch (event->key()) {
        case Qt::Key_Return:
        case Qt::Key_Enter:
        case Qt::Key_Space:
            press(currentIndex());
            event->accept();
            return;
        case Qt::Key_Escape:
            if (!open_id().empty()) {
                fold();
                event->accept();
                return;
            }
            break;
        default:
            break;
    }
    QListView::keyPressEvent(event);
}

void FindingList::press(const QModelIndex& index) {
    if (!index.isValid()) {
        return;
    }
    const std::string id = model_.finding(index.row()).id;
    open(id == open_id() ? std::string() : id);
    emit pressed_on(id);
}

}  // namespace sillwright::app
