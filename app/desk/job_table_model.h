#pragma once

#include <QAbstractTableModel>
#include <QModelIndexList>
#include <optional>
#include <vector>

#include "app/desk/item.h"
#include "core/edit/table.h"
#include "geometry/units.h"

namespace sillwright::app {

class OpenJob;

/// One list of the open job as a table of texts. What is typed goes through the job's history; what the history
/// does is seen here, cell by cell, so that an editor in another cell stays open.
class JobTableModel : public QAbstractTableModel {
    Q_OBJECT

public:
    JobTableModel(OpenJob& open, core::Table table, QObject* parent = nullptr);

    [[nodiscard]] core::Table table() const { return table_; }
    /// Another list takes the place of this one.
    void show(core::Table table);

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
    [[nodiscard]] Qt::ItemFlags flags(const QModelIndex& index) const override;
    bool setData(const QModelIndex& index, const QVariant& value, int role = Qt::EditRole) override;

    /// Cells as a spreadsheet takes them: the rectangle round the cells, what is not among them empty.
    [[nodiscard]] QString copied(const QModelIndexList& cells) const;
    // Each is one step of the history. False if it was refused; then nothing is changed.
    bool paste(const QModelIndex& at, const QString& text);
    bool empty_cells(const QModelIndexList& cells);
    bool add_row();
    bool delete_rows(const QModelIndexList& cells);

    /// What a row is on the drawings, if they show it, and where along the car, if it is at one place.
    [[nodiscard]] Item item(int row) const;
    [[nodiscard]] std::optional<geometry::Length> along(int row) const;
    /// The row of an item; none if this list has it not.
    [[nodiscard]] std::optional<int> row_of(const Item& item) const;

signals:
    /// A text was not taken: why, and what would be right.
    void refused(const QString& sentence);
    /// It was typed into this cell.
    void cell_refused(const QModelIndex& index, const QString& text);

private:
    using Cells = std::vector<std::vector<QString>>;
    [[nodiscard]] Cells cells_of_job() const;
    void follow();
    void change_row(std::size_t row, std::vector<QString> cells);
    bool apply(const geometry::Result<core::Edit>& edit);

    OpenJob& open_;
    core::Table table_;
    Cells cells_;
};

/// The list that holds items of a kind; none if no list does.
std::optional<core::Table> table_of(Item::Kind kind);

}  // namespace sillwright::app
