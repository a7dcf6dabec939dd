#include "app/desk/book_model.h"

#include <QFont>
#include <algorithm>
#include <cmath>
#include <utility>

#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/link/book_words.h"
#include "app/looks.h"
#include "app/text_of.h"

namespace sillwright::app {

using core::State;
using core::survey::AdjustedNumber;
using core::survey::Reading;
using core::survey::ReadingResult;
using core::survey::ReadingUse;

namespace {

/// Of a gauge's numbers the one that fits worst stands for all.
const AdjustedNumber* worst_of(const ReadingResult& result) {
    const auto worst = std::max_element(
        result.numbers.begin(), result.numbers.end(),
        [](const AdjustedNumber& a, const AdjustedNumber& b) { return a.w.value_or(-1.0) < b.w.value_or(-1.0); });
    return worst == result.numbers.end() ? nullptr : &*worst;
}

State state_of_checked(core::survey::Checked checked) {
    return checked == core::survey::Checked::by_others ? State::holds : State::close;
}

}  // namespace

BookModel::BookModel(OpenBook& book, QObject* parent) : QAbstractTableModel(parent), book_{book} {
    connect(&book_, &OpenBook::changed, this, &BookModel::follow);
    rows_ = rows_of_book();
}

std::vector<BookModel::Row> BookModel::rows_of_book() const {
    const core::Job& job = book_.job().job();
    const core::survey::Solution& solution = book_.results().solution;
    const auto& readings = job.book.readings;
    const bool known = book_.current() && solution.readings.size() == readings.size();
    std::vector<Row> rows;
    rows.reserve(readings.size());
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const Reading& reading = readings[i];
        Row row;
        row.id = reading.id;
        row.points = reading.points;
        row.dropped = !reading.dropped.empty();
        row.texts[Number] = QString::number(i + 1);
        row.texts[Kind] = text_of(core::survey::kind_word(reading.kind));
        row.texts[Points] = text_of(over_words(reading));
        row.texts[Value] = text_of(value_words(reading, job.unit));
        row.texts[SetUp] = text_of(reading.set_up.empty() && !job.book.set_ups.empty() ? job.book.set_ups.front().name
                                                                                       : reading.set_up);
        row.texts[Instrument] = text_of(reading.instrument);
        row.texts[Sd] = text_of(number_words(reading.kind, core::survey::reading_sd(job.book, reading), job.unit));
        if (row.dropped) {
            row.texts[What] = tr("dropped: %1").arg(text_of(reading.dropped));
        }
        if (known) {
            const ReadingResult& result = solution.readings[i];
            if (const AdjustedNumber* worst = worst_of(result)) {
                row.texts[Adjusted] = text_of(number_words(reading.kind, worst->adjusted, job.unit));
                row.texts[Difference] = text_of(number_words(reading.kind, worst->residual, job.unit, Sign::always));
                row.misfit = worst->w;
                row.texts[Misfit] = worst->w ? QString::number(std::abs(*worst->w), 'f', 1) : QString();
            }
            switch (result.use) {
                case ReadingUse::used: {
                    const auto checked = core::survey::how_checked(result);
                    row.checked = state_of_checked(checked);
                    row.texts[Checked] = text_of(checked_words(checked));
                    const bool suspect = solution.suspect && solution.suspect->reading == i;
                    const bool over = row.misfit && std::abs(*row.misfit) > core::survey::k_blunder_w;
                    // One wrong reading pulls good ones along: only the worst is to be dropped, then all looked at
                    // anew.
                    row.what = suspect ? State::falls_short : over ? State::close : State::holds;
                    row.texts[What] = suspect ? tr("most in conflict") : over ? tr("pulled along") : tr("counts");
                    break;
                }
                case ReadingUse::waiting:
                    row.what = State::not_measured;
                    row.texts[What] = tr("waiting: %1").arg(text_of(result.why));
                    break;
                case ReadingUse::not_usable:
                    row.what = State::falls_short;
                    row.texts[What] = tr("not usable: %1").arg(text_of(result.why));
                    break;
                case ReadingUse::dropped:
                    break;
            }
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

/// Rows that went or came are those at the end: readings never leave a book but by an undo.
void BookModel::follow() {
    std::vector<Row> rows = rows_of_book();
    const int before = rowCount();
    const int after = static_cast<int>(rows.size());
    if (after < before) {
        beginRemoveRows({}, after, before - 1);
        rows_.resize(rows.size());
        endRemoveRows();
    } else if (after > before) {
        beginInsertRows({}, before, after - 1);
        rows_.insert(rows_.end(), rows.begin() + before, rows.end());
        endInsertRows();
    }
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (rows[i] != rows_[i]) {
            rows_[i] = std::move(rows[i]);
            const int row = static_cast<int>(i);
            emit dataChanged(index(row, 0), index(row, ColumnCount - 1));
        }
    }
}

int BookModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}

int BookModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : ColumnCount;
}

QVariant BookModel::data(const QModelIndex& index, int role) const {
    if (!checkIndex(index, CheckIndexOption::IndexIsValid | CheckIndexOption::ParentIsInvalid)) {
        return {};
    }
    const Row& row = rows_[static_cast<std::size_t>(index.row())];
    const auto column = static_cast<std::size_t>(index.column());
    const bool number =
        column == Number || column == Value || column == Adjusted || column == Difference || column == Sd;
    switch (role) {
        case Qt::DisplayRole:
        case Qt::ToolTipRole:
            return row.texts.at(column);
        case Qt::TextAlignmentRole:
            return QVariant::fromValue(Qt::Alignment(Qt::AlignVCenter | (number ? Qt::AlignRight : Qt::AlignLeft)));
        case Qt::FontRole: {
            QFont font = looks::font(looks::k_text);
            font.setStrikeOut(row.dropped && column != What);
            font.setBold(!marked_.empty() &&
                         std::find(row.points.begin(), row.points.end(), marked_) != row.points.end());
            return font;
        }
        case MisfitRole:
            return row.misfit && column == Misfit ? QVariant(std::abs(*row.misfit)) : QVariant();
        case StateRole: {
            const auto& state = column == What ? row.what : row.checked;
            return state && (column == What || column == Checked) ? QVariant(static_cast<int>(*state)) : QVariant();
        }
        default:
            return {};
    }
}

QVariant BookModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (role != Qt::DisplayRole || orientation != Qt::Horizontal) {
        return {};
    }
    switch (section) {
        case Number:
            return tr("No.");
        case Kind:
            return tr("kind");
        case Points:
            return tr("points");
        case Value:
            return tr("read");
        case Adjusted:
            return tr("adjusted");
        case Difference:
            return tr("differs");
        case Misfit:
            return tr("misfit |w|");
        case Checked:
            return tr("checked");
        case What:
            return tr("what of it");
        case SetUp:
            return tr("set-up");
        case Instrument:
            return tr("instrument");
        case Sd:
            return tr("sd");
        default:
            return {};
    }
}

std::string BookModel::id(int row) const {
    return row >= 0 && row < rowCount() ? rows_[static_cast<std::size_t>(row)].id : std::string();
}

std::optional<int> BookModel::row_of(const std::string& id) const {
    const auto row = std::find_if(rows_.begin(), rows_.end(), [&](const Row& one) { return one.id == id; });
    return row == rows_.end() ? std::nullopt : std::optional(static_cast<int>(row - rows_.begin()));
}

std::optional<int> BookModel::row_about(const std::string& point) const {
    const auto row = std::find_if(rows_.begin(), rows_.end(), [&](const Row& one) {
        return std::find(one.points.begin(), one.points.end(), point) != one.points.end();
    });
    return row == rows_.end() ? std::nullopt : std::optional(static_cast<int>(row - rows_.begin()));
}

void BookModel::mark_point(const std::string& point) {
    if (point != marked_) {
        marked_ = point;
        if (!rows_.empty()) {
            emit dataChanged(index(0, 0), index(rowCount() - 1, ColumnCount - 1), {Qt::FontRole});
        }
    }
}

}  // namespace sillwright::app
