#include "app/desk/history_desk.h"

#include <QStyledItemDelegate>
#include <QUndoView>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desk/open_job.h"
#include "app/looks.h"

namespace sillwright::app {

namespace {

/// Rows that can be pressed with gloves on.
class StepRow : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        QSize size = QStyledItemDelegate::sizeHint(option, index);
        size.setHeight(std::max(size.height(), looks::k_target));
        return size;
    }
};

}  // namespace

HistoryDesk::HistoryDesk(OpenJob& open, QWidget* parent) : QWidget(parent), steps_{new QUndoView(&open.history())} {
    setObjectName(QStringLiteral("historyDesk"));
    steps_->setObjectName(QStringLiteral("history"));
    steps_->setAccessibleName(tr("Steps of the history; choose one to go to it"));
    steps_->setFont(looks::font(looks::k_text));
    steps_->setEmptyLabel(tr("the job as it was opened"));
    steps_->setItemDelegate(new StepRow(steps_));
    steps_->setWordWrap(true);
    steps_->setTextElideMode(Qt::ElideNone);
    steps_->setResizeMode(QListView::Adjust);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(steps_);
}

}  // namespace sillwright::app
