#pragma once

#include <QAbstractTableModel>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"

namespace sillwright::app {

class OpenBook;

/// The measuring book as a table, a line a reading: what was read, as it was typed, and what the computation says of
/// it. Shows only; who changes the book does so through its edits.
class BookModel : public QAbstractTableModel {
    Q_OBJECT

public:
    enum Column {
        Number,
        Kind,
        Points,
        Value,
        Difference,
        Misfit,  ///< |w| and a bar against the limit.
        Checked,
        What,  ///< Counts, dropped, waiting, and why.
        Adjusted,
        SetUp,
        Instrument,
        Sd,
        ColumnCount
    };
    /// |w| as a number; invalid if there is none. The state that a cell of Checked or What shows, as core::State.
    enum Role { MisfitRole = Qt::UserRole + 1, StateRole };

    explicit BookModel(OpenBook& book, QObject* parent = nullptr);

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

    /// Id of the reading in a row; empty if there is no such row.
    [[nodiscard]] std::string id(int row) const;
    [[nodiscard]] std::optional<int> row_of(const std::string& id) const;
    /// First row that is about a point.
    [[nodiscard]] std::optional<int> row_about(const std::string& point) const;
    /// Rows about that point stand out; empty for none.
    void mark_point(const std::string& point);

private:
    struct Row {
        std::string id;
        std::array<QString, ColumnCount> texts;
        std::vector<std::string> points;
        bool dropped = false;
        std::optional<double> misfit;
        std::optional<core::State> checked, what;

        friend bool operator==(const Row&, const Row&) = default;
    };
    [[nodiscard]] std::vector<Row> rows_of_book() const;
    void follow();

    OpenBook& book_;
    std::vector<Row> rows_;
    std::string marked_;
};

}  // namespace sillwright::app
