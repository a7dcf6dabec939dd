#pragma once

#include <QAbstractTableModel>
#include <vector>

#include "core/edit/book_lists.h"

namespace sillwright::app {

class OpenJob;

/// Points, set-ups or instruments of the open job's book as a table of texts that can be typed into.
class BookListModel : public QAbstractTableModel {
    Q_OBJECT

public:
    BookListModel(OpenJob& open, core::BookList list, QObject* parent = nullptr);

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
    [[nodiscard]] Qt::ItemFlags flags(const QModelIndex& index) const override;
    bool setData(const QModelIndex& index, const QVariant& value, int role = Qt::EditRole) override;

    bool add_row();
    bool delete_row(int row);

signals:
    /// A text or a change was not taken: why, and what would be right. Empty: it was.
    void said(const QString& sentence);

private:
    [[nodiscard]] std::vector<std::vector<QString>> cells_of_book() const;
    void follow();
    bool apply(const geometry::Result<core::Edit>& edit);

    OpenJob& open_;
    core::BookList list_;
    std::vector<std::vector<QString>> cells_;
};

}  // namespace sillwright::app
