#pragma once

#include <QStyledItemDelegate>
#include <memory>
#include <optional>
#include <string>
#include <unordered_map>

#include "core/finding.h"

namespace sillwright::app {

/// Draws a finding of a FindingsModel as a card: shape, title, margin in large, numbers, word of the
/// state, place, and a bar that shows where found lies against the limit. As high as its text needs at
/// the view's width; paler where the model is stale. Below the open card is room for its sheet.
///
/// What was set is kept for as long as it reads the same, so that cards may follow a hand.
class FindingCard : public QStyledItemDelegate {
    Q_OBJECT

public:
    explicit FindingCard(QObject* parent = nullptr);
    ~FindingCard() override;

    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;

    /// The finding whose card is open, and the height of the sheet below it; an empty id for none.
    void set_open(const std::string& id, int sheet_height);
    [[nodiscard]] const std::string& open_id() const { return open_id_; }
    [[nodiscard]] int sheet_height() const { return sheet_height_; }

    /// Cards stand apart by twice this.
    static constexpr int k_apart = 4;

private:
    struct Card;
    [[nodiscard]] const Card& card_of(const QModelIndex& index, double width) const;

    std::string open_id_;
    int sheet_height_ = 0;
    mutable std::unordered_map<std::string, std::unique_ptr<Card>> cards_;  ///< By finding id.
};

/// Where found lies on a bar from 0 to 1 whose limit is at 1/2 and which reaches as far to either side as the
/// limit is from zero; further out is at the end. None without a number found, or a limit other than zero.
std::optional<double> bar_place(const core::Finding& finding);

}  // namespace sillwright::app
