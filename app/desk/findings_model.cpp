#include "app/desk/findings_model.h"

#include <algorithm>
#include <unordered_map>
#include <unordered_set>
#include <utility>

#include "app/finding_look.h"

namespace sillwright::app {

namespace {

QString sentence(const core::Finding& finding, core::BareUnit unit) {
    const FindingNumbers numbers = core::numbers_of(finding, unit);
    QStringList parts{QString::fromStdString(look(finding.state).word + ": " + finding.title)};
    for (const std::string& part : {numbers.found, numbers.needs, finding.place.words}) {
        if (!part.empty()) {
            parts += QString::fromStdString(part);
        }
    }
    if (!numbers.margin.empty()) {
        parts += QObject::tr("margin ") + QString::fromStdString(numbers.margin);
    }
    return parts.join(QStringLiteral(", "));
}

/// The members of the longest run of `numbers` that rises, not necessarily neighbours: what may stay
/// where it is while all others are moved between.
std::vector<bool> rising_run(const std::vector<int>& numbers) {
    std::vector<int> best(numbers.size(), 1);
    std::vector<std::size_t> before(numbers.size());
    std::size_t last = 0;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        before[i] = i;
        for (std::size_t j = 0; j < i; ++j) {
            if (numbers[j] < numbers[i] && best[j] + 1 > best[i]) {
                best[i] = best[j] + 1;
                before[i] = j;
            }
        }
        last = best[i] > best[last] ? i : last;
    }
    std::vector<bool> in_run(numbers.size(), false);
    for (std::size_t i = last; !numbers.empty() && !in_run[i]; i = before[i]) {
        in_run[i] = true;
    }
    return in_run;
}

}  // namespace

FindingsModel::FindingsModel(QObject* parent) : QAbstractListModel(parent) {}

void FindingsModel::set_findings(std::vector<core::Finding> findings, core::BareUnit unit) {
    const bool other_unit = std::exchange(unit_, unit) != unit;
    all_ = worst_first(std::move(findings));
    show_again(other_unit);
}

void FindingsModel::show_stage(std::optional<core::Stage> stage) {
    stage_ = stage;
    show_again(false);
}

void FindingsModel::hide_holding(bool hide) {
    holding_hidden_ = hide;
    show_again(false);
}

void FindingsModel::set_stale(bool stale) {
    if (stale != stale_) {
        stale_ = stale;
        if (!rows_.empty()) {
            emit dataChanged(index(0), index(rowCount() - 1), {Qt::ForegroundRole});
        }
    }
}

std::optional<int> FindingsModel::row_of(const std::string& id) const {
    const auto found = std::find_if(rows_.begin(), rows_.end(), [&](const auto& row) { return row->finding.id == id; });
    return found == rows_.end() ? std::nullopt : std::optional(static_cast<int>(found - rows_.begin()));
}

int FindingsModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}

QVariant FindingsModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid()) {
        return {};
    }
    switch (role) {
        case Qt::DisplayRole:
        case Qt::AccessibleTextRole:
            return sentence(finding(index.row()), unit_) +
                   (stale_ ? tr(" (of an earlier state of the job)") : QString());
        default:
            return {};
    }
}

bool FindingsModel::is_shown(const core::Finding& finding) const {
    return (!stage_ || finding.stage == *stage_) && !(holding_hidden_ && finding.state == core::State::holds);
}

void FindingsModel::show_again(bool all_read_otherwise) {
    Shown wanted;
    for (const core::Finding& finding : all_) {
        if (is_shown(finding)) {
            wanted.push_back(&finding);
        }
    }
    take_away_all_but(wanted);
    put_in_order(wanted);
    take_over(wanted, all_read_otherwise);
}

void FindingsModel::take_away_all_but(const Shown& wanted) {
    std::unordered_set<std::string> ids;
    for (const core::Finding* finding : wanted) {
        ids.insert(finding->id);
    }
    for (int row = rowCount() - 1; row >= 0; --row) {
        if (!ids.contains(finding(row).id)) {
            beginRemoveRows({}, row, row);
            rows_.erase(rows_.begin() + row);
            endRemoveRows();
        }
    }
}

void FindingsModel::put_in_order(const Shown& wanted) {
    std::unordered_map<std::string, int> place;
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        place[wanted[i]->id] = static_cast<int>(i);
    }
    std::vector<int> numbers;
    for (const auto& row : rows_) {
        numbers.push_back(place.at(row->finding.id));
    }
    const std::vector<bool> stays = rising_run(numbers);
    std::unordered_set<std::string> staying;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
        if (stays[i]) {
            staying.insert(rows_[i]->finding.id);
        }
    }
    int before = -1;  // The row that the one before it is in.
    for (const core::Finding* finding : wanted) {
        if (!staying.contains(finding->id)) {
            put_behind(before, *finding);
        }
        before = *row_of(finding->id);
    }
}

void FindingsModel::put_behind(int before, const core::Finding& finding) {
    const int to = before + 1;
    const std::optional<int> from = row_of(finding.id);
    if (!from) {
        beginInsertRows({}, to, to);
        rows_.insert(rows_.begin() + to, std::make_unique<Row>(Row{finding, ++last_version_}));
        endInsertRows();
        return;
    }
    if (*from == to || *from == before) {
        return;
    }
    beginMoveRows({}, *from, *from, {}, to);
    const auto first = rows_.begin();
    if (*from < to) {
        std::rotate(first + *from, first + *from + 1, first + to);
    } else {
        std::rotate(first + to, first + *from, first + *from + 1);
    }
    endMoveRows();
}

void FindingsModel::take_over(const Shown& wanted, bool all_read_otherwise) {
    int first = rowCount();
    int last = -1;
    for (int row = 0; row < rowCount(); ++row) {
        Row& shown = *rows_[static_cast<std::size_t>(row)];
        const core::Finding& now = *wanted[static_cast<std::size_t>(row)];
        if (all_read_otherwise || shown.finding != now) {
            shown.finding = now;
            shown.version = ++last_version_;
            first = std::min(first, row);
            last = row;
        }
    }
    if (last >= 0) {
        emit dataChanged(index(first), index(last));
    }
}

}  // namespace sillwright::app
