#include "app/desk/row_layout.h"

#include <QWidget>
#include <algorithm>

namespace sillwright::app {

namespace {
constexpr int k_gap = 6;
}  // namespace

RowLayout::RowLayout(QWidget* parent) : QLayout(parent) {}

RowLayout::~RowLayout() {
    qDeleteAll(items_);
}

void RowLayout::addItem(QLayoutItem* item) {
    items_.append(item);
}

int RowLayout::count() const {
    return static_cast<int>(items_.size());
}

QLayoutItem* RowLayout::itemAt(int index) const {
    return items_.value(index);
}

QLayoutItem* RowLayout::takeAt(int index) {
    return index >= 0 && index < count() ? items_.takeAt(index) : nullptr;
}

int RowLayout::heightForWidth(int width) const {
    return lay_out(QRect(0, 0, width, 0), false);
}

QSize RowLayout::sizeHint() const {
    QSize size;
    for (const QLayoutItem* item : items_) {
        size =
            QSize(size.width() + item->sizeHint().width() + k_gap, std::max(size.height(), item->sizeHint().height()));
    }
    const QMargins margins = contentsMargins();
    return size.grownBy(margins);
}

QSize RowLayout::minimumSize() const {
    QSize size;
    for (const QLayoutItem* item : items_) {
        size = size.expandedTo(item->minimumSize());
    }
    return size.grownBy(contentsMargins());
}

void RowLayout::setGeometry(const QRect& rect) {
    QLayout::setGeometry(rect);
    lay_out(rect, true);
}

int RowLayout::lay_out(const QRect& rect, bool really) const {
    const QMargins margins = contentsMargins();
    const QRect room = rect.marginsRemoved(margins);
    int x = room.left();
    int y = room.top();
    int row_height = 0;
    for (QLayoutItem* item : items_) {
        if (item->isEmpty()) {
            continue;  // Hidden.
        }
        const QSize size = item->sizeHint();
        if (x > room.left() && x + size.width() > room.left() + room.width()) {
            x = room.left();
            y += row_height + k_gap;
            row_height = 0;
        }
        if (really) {
            item->setGeometry(QRect(QPoint(x, y), size));
        }
        x += size.width() + k_gap;
        row_height = std::max(row_height, size.height());
    }
    return y + row_height - rect.top() + margins.bottom();
}

}  // namespace sillwright::app
