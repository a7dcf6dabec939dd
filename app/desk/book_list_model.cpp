#include "app/desk/book_list_model.h"

#include <utility>

#include "app/desk/open_job.h"

namespace sillwright::app {

BookListModel::BookListModel(OpenJob& open, core::BookList list, QObject* parent)
    : QAbstractTableModel(parent), open_{open}, list_{list} {
    cells_ = cells_of_book();
    connect(&open_, &OpenJob::job_changed, this, &BookListModel::follow);
}

std::vector<std::vector<QString>> BookListModel::cells_of_book() const {
    std::vector<std::vector<QString>> cells(core::book_rows(open_.job(), list_));
    for (std::size_t row = 0; row < cells.size(); ++row) {
        for (std::size_t column = 0; column < core::book_columns(list_).size(); ++column) {
            cells[row].push_back(QString::fromStdString(core::book_cell(open_.job(), list_, row, column)));
        }
    }
    return cells;
}

void BookListModel::follow() {
    auto cells = cells_of_book();
    if (cells == cells_) {
        return;
    }
    if (cells.size() != cells_.size()) {
        beginResetModel();
        cells_ = std::move(cells);
        endResetModel();
        return;
    }
    cells_ = std::move(cells);
    emit dataChanged(index(0, 0), index(rowCount() - 1, columnCount() - 1));
}

int BookListModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(cells_.size());
}

int BookListModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(core::book_columns(list_).size());
}

QVariant BookListModel::data(const QModelIndex& index, int role) const {
    if (!checkIndex(index, CheckIndexOption::IndexIsValid | CheckIndexOption::ParentIsInvalid)) {
        return {};
    }
    if (role == Qt::ToolTipRole) {
        return QString::fromStdString(core::book_columns(list_)[static_cast<std::size_t>(index.column())].help);
    }
    return role == Qt::DisplayRole || role == Qt::EditRole
               ? cells_[static_cast<std::size_t>(index.row())][static_cast<std::size_t>(index.column())]
               : QVariant();
}

QVariant BookListModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal || section < 0 || section >= columnCount()) {
        return {};
    }
    const core::BookColumn& column = core::book_columns(list_)[static_cast<std::size_t>(section)];
    return role == Qt::DisplayRole   ? QString::fromStdString(column.name)
           : role == Qt::ToolTipRole ? QString::fromStdString(column.help)
                                     : QVariant();
}

Qt::ItemFlags BookListModel::flags(const QModelIndex& index) const {
    const Qt::ItemFlags usual = QAbstractTableModel::flags(index);
    return index.isValid() ? usual | Qt::ItemIsEditable : usual;
}

bool BookListModel::setData(const QModelIndex& index, const QVariant& value, int role) {
    if (role != Qt::EditRole || !checkIndex(index, CheckIndexOption::IndexIsValid)) {
        return false;
    }
    if (value.toString() == data(index).toString()) {
        return true;  // left as it was
    }
    return apply(core::write_book_cell(open_.job(), list_, static_cast<std::size_t>(index.row()),
                                       static_cast<std::size_t>(index.column()), value.toString().toStdString()));
}

bool BookListModel::add_row() {
    return apply(core::add_book_row(open_.job(), list_));
}

bool BookListModel::delete_row(int row) {
    return row >= 0 && row < rowCount() &&
           apply(core::delete_book_row(open_.job(), list_, static_cast<std::size_t>(row)));
}

bool BookListModel::apply(const geometry::Result<core::Edit>& edit) {
    emit said(edit ? QString() : QString::fromStdString(edit.error().message));
    return edit && open_.apply(edit);
}

}  // namespace sillwright::app
