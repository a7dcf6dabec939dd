#pragma once

#include <QListView>
#include <optional>
#include <string>

namespace sillwright::app {

class FindingCard;
class FindingSheet;
class FindingsModel;

/// The findings as cards, one below the other; one of them may be open and then has its sheet below it.
/// A press on a card, Return and the space bar open and fold it, Escape folds.
class FindingList : public QListView {
    Q_OBJECT

public:
    explicit FindingList(FindingsModel& model, QWidget* parent = nullptr);

    /// Opens the card of a finding; one that was open folds. The card stays where it is seen.
    void open(const std::string& id);
    void fold() { open({}); }
    /// Empty for none.
    [[nodiscard]] const std::string& open_id() const;
    [[nodiscard]] FindingSheet& sheet() { return *sheet_; }
    /// The open finding reads otherwise: its sheet takes that over.
    void read_again();
    /// The finding in hand, if any.
    [[nodiscard]] std::optional<int> current_row() const;
    /// Takes a row in hand, all of it in sight if it can be.
    void take_in_hand(int row);

signals:
    /// A card was pressed, by hand or by key.
    void pressed_on(const std::string& id);

protected:
    void updateGeometries() override;
    void scrollContentsBy(int dx, int dy) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    [[nodiscard]] std::optional<int> open_row() const;
    [[nodiscard]] int sheet_width() const;
    void place_sheet();
    void press(const QModelIndex& index);

    FindingsModel& model_;
    FindingCard* card_;
    FindingSheet* sheet_;
    bool placing_ = false;
};

}  // namespace sillwright::app
