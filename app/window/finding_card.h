#pragma once

#include <QStyledItemDelegate>

namespace sillwright::app {

/// Draws a finding of a FindingsModel as a card: shape, title, word of the
/// state, numbers, place and mend, and the margin in large. As high as its text
/// needs at the view's width.
class FindingCard : public QStyledItemDelegate {
    Q_OBJECT

public:
    explicit FindingCard(QObject* parent = nullptr);

    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
};

}  // namespace sillwright::app
