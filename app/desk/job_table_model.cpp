#include "app/desk/job_table_model.h"

#include <algorithm>
#include <iterator>
#include <set>
#include <string>
#include <utility>

#include "app/desk/open_job.h"

namespace sillwright::app {

using core::Edit;
using core::Table;
using geometry::Result;

namespace {

/// None for rows that no drawing shows as something to be chosen.
Item::Kind kind_of(Table table) {
    switch (table) {
        case Table::mounts:
            return Item::Kind::mount;
        case Table::stations:
            return Item::Kind::station;
        case Table::doors:
            return Item::Kind::door;
        case Table::keep_outs:
            return Item::Kind::keep_out;
        default:
            return Item::Kind::none;
    }
}

/// Of a table that holds items.
const std::string& name_of(const core::Job& job, Table table, std::size_t row) {
    switch (table) {
        case Table::mounts:
            return job.mounts[row].name;
        case Table::stations:
            return job.stations[row].name;
        case Table::doors:
            return job.doors[row].name;
        default:
            return job.keep_outs[row].name;
    }
}

QString words(const std::string& text) {
    return QString::fromStdString(text);
}

}  // namespace

std::optional<Table> table_of(Item::Kind kind) {
    for (const Table table : core::k_tables) {
        if (kind != Item::Kind::none && kind_of(table) == kind) {
            return table;
        }
    }
    return std::nullopt;
}

JobTableModel::JobTableModel(OpenJob& open, Table table, QObject* parent)
    : QAbstractTableModel(parent), open_{open}, table_{table}, cells_{cells_of_job()} {
    connect(&open_, &OpenJob::job_changed, this, &JobTableModel::follow);
    connect(&open_, &OpenJob::opened, this, [this] { show(table_); });
}

void JobTableModel::show(Table table) {
    beginResetModel();
    table_ = table;
    cells_ = cells_of_job();
    endResetModel();
}

int JobTableModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(cells_.size());
}

int JobTableModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(core::columns(table_).size());
}

QVariant JobTableModel::data(const QModelIndex& index, int role) const {
    if (!checkIndex(index, CheckIndexOption::IndexIsValid)) {
        return {};
    }
    switch (role) {
        case Qt::DisplayRole:
        case Qt::EditRole:
            return cells_[static_cast<std::size_t>(index.row())][static_cast<std::size_t>(index.column())];
        case Qt::ToolTipRole:
            return words(core::columns(table_)[static_cast<std::size_t>(index.column())].help);
        default:
            return {};
    }
}

QVariant JobTableModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation == Qt::Vertical) {
        return role == Qt::DisplayRole ? QVariant(section + 1) : QVariant();
    }
    const auto& columns = core::columns(table_);
    if (section < 0 || section >= columnCount()) {
        return {};
    }
    const core::TableColumn& column = columns[static_cast<std::size_t>(section)];
    switch (role) {
        case Qt::DisplayRole:
            return words(column.name);
        case Qt::ToolTipRole:
            return words(column.help);
        default:
            return {};
    }
}

Qt::ItemFlags JobTableModel::flags(const QModelIndex& index) const {
    return index.isValid() ? Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsEditable | Qt::ItemNeverHasChildren
                           : Qt::NoItemFlags;
}

bool JobTableModel::setData(const QModelIndex& index, const QVariant& value, int role) {
    if (role != Qt::EditRole || !checkIndex(index, CheckIndexOption::IndexIsValid)) {
        return false;
    }
    const QString text = value.toString();
    if (text == data(index).toString()) {
        return true;
    }
    const QPersistentModelIndex cell(index);
    if (apply(core::write_cell(open_.job(), table_, static_cast<std::size_t>(index.row()),
                               static_cast<std::size_t>(index.column()), text.toStdString()))) {
        return true;
    }
    emit cell_refused(cell, text);
    return false;
}

QString JobTableModel::copied(const QModelIndexList& cells) const {
    if (cells.isEmpty()) {
        return {};
    }
    const std::set<QModelIndex> chosen(cells.begin(), cells.end());
    int first = columnCount(), last = 0;
    for (const QModelIndex& cell : cells) {
        first = std::min(first, cell.column());
        last = std::max(last, cell.column());
    }
    QString text;
    for (int row = chosen.begin()->row(); row <= chosen.rbegin()->row(); ++row) {
        QStringList line;
        for (int column = first; column <= last; ++column) {
            const QModelIndex cell = index(row, column);
            line << (chosen.contains(cell) ? data(cell).toString() : QString());
        }
        text += line.join(u'\t') + u'\n';
    }
    return text;
}

bool JobTableModel::paste(const QModelIndex& at, const QString& text) {
    const bool cell = at.isValid();
    return apply(core::paste(open_.job(), table_, cell ? static_cast<std::size_t>(at.row()) : cells_.size(),
                             cell ? static_cast<std::size_t>(at.column()) : 0, text.toStdString()));
}

bool JobTableModel::empty_cells(const QModelIndexList& cells) {
    Edit whole{open_.job(), ""};
    int emptied = 0;
    for (const QModelIndex& cell : cells) {
        if (data(cell).toString().isEmpty()) {
            continue;
        }
        auto edit = core::write_cell(whole.job, table_, static_cast<std::size_t>(cell.row()),
                                     static_cast<std::size_t>(cell.column()), "");
        if (!edit) {
            return apply(edit);
        }
        whole = std::move(edit).value();
        ++emptied;
    }
    if (emptied == 0) {
        return true;
    }
    if (emptied > 1) {
        whole.words = tr("empty %1 cells").arg(emptied).toStdString();
    }
    return apply(whole);
}

bool JobTableModel::add_row() {
    return apply(core::add_row(open_.job(), table_));
}

bool JobTableModel::delete_rows(const QModelIndexList& cells) {
    std::set<std::size_t> rows;
    for (const QModelIndex& cell : cells) {
        rows.insert(static_cast<std::size_t>(cell.row()));
    }
    return rows.empty() || apply(core::delete_rows(open_.job(), table_, {rows.begin(), rows.end()}));
}

Item JobTableModel::item(int row) const {
    const core::Job& job = open_.job();
    const auto at = static_cast<std::size_t>(row);
    const bool is_item = kind_of(table_) != Item::Kind::none && row >= 0 && at < core::row_count(job, table_);
    return is_item ? Item{kind_of(table_), name_of(job, table_, at)} : Item{};
}

std::optional<geometry::Length> JobTableModel::along(int row) const {
    const core::Job& job = open_.job();
    const auto at = static_cast<std::size_t>(row);
    if (row < 0 || at >= core::row_count(job, table_)) {
        return std::nullopt;
    }
    switch (table_) {
        case Table::mounts:
            return job.mounts[at].at.along.value;
        case Table::stations:
            return job.stations[at].along.value;
        case Table::keep_outs:
            return 0.5 * (job.keep_outs[at].from.along.value + job.keep_outs[at].to.along.value);
        default:
            return std::nullopt;
    }
}

std::optional<int> JobTableModel::row_of(const Item& item) const {
    if (item.kind == Item::Kind::none || item.kind != kind_of(table_)) {
        return std::nullopt;
    }
    const core::Job& job = open_.job();
    for (std::size_t row = 0; row < core::row_count(job, table_); ++row) {
        if (name_of(job, table_, row) == item.id) {
            return static_cast<int>(row);
        }
    }
    return std::nullopt;
}

JobTableModel::Cells JobTableModel::cells_of_job() const {
    const core::Job& job = open_.job();
    Cells cells(core::row_count(job, table_));
    for (std::size_t row = 0; row < cells.size(); ++row) {
        for (std::size_t column = 0; column < core::columns(table_).size(); ++column) {
            cells[row].push_back(words(core::cell(job, table_, row, column)));
        }
    }
    return cells;
}

/// Rows that are alike at both ends stay; of those between, as many as there are in both are written anew.
void JobTableModel::follow() {
    Cells now = cells_of_job();
    const auto [was_end, now_end] = std::mismatch(cells_.begin(), cells_.end(), now.begin(), now.end());
    const auto first = static_cast<std::size_t>(std::distance(cells_.begin(), was_end));
    std::size_t alike = 0;  // at the far end
    while (alike < std::min(cells_.size(), now.size()) - first &&
           cells_[cells_.size() - 1 - alike] == now[now.size() - 1 - alike]) {
        ++alike;
    }
    const std::size_t was_between = cells_.size() - alike - first;
    const std::size_t now_between = now.size() - alike - first;
    const std::size_t common = std::min(was_between, now_between);
    const std::size_t from = first + common;
    if (was_between > common) {
        beginRemoveRows({}, static_cast<int>(from), static_cast<int>(first + was_between) - 1);
        cells_.erase(cells_.begin() + static_cast<std::ptrdiff_t>(from),
                     cells_.begin() + static_cast<std::ptrdiff_t>(first + was_between));
        endRemoveRows();
    } else if (now_between > common) {
        beginInsertRows({}, static_cast<int>(from), static_cast<int>(first + now_between) - 1);
        cells_.insert(cells_.begin() + static_cast<std::ptrdiff_t>(from),
                      now.begin() + static_cast<std::ptrdiff_t>(from),
                      now.begin() + static_cast<std::ptrdiff_t>(first + now_between));
        endInsertRows();
    }
    for (std::size_t row = first; row < from; ++row) {
        change_row(row, std::move(now[row]));
    }
}

void JobTableModel::change_row(std::size_t row, std::vector<QString> cells) {
    for (std::size_t column = 0; column < cells.size(); ++column) {
        if (cells_[row][column] != cells[column]) {
            cells_[row][column] = std::move(cells[column]);
            const QModelIndex cell = index(static_cast<int>(row), static_cast<int>(column));
            emit dataChanged(cell, cell, {Qt::DisplayRole, Qt::EditRole});
        }
    }
}

bool JobTableModel::apply(const Result<Edit>& edit) {
    if (!edit) {
        emit refused(words(edit.error().message));
    }
    return open_.apply(edit);
}

}  // namespace sillwright::app
