#include "core/edit/table.h"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "core/edit/columns.h"
#include "core/edit/drawn_change.h"
#include "core/edit/new_names.h"
#include "core/edit/new_parts.h"
#include "core/edit/pasted_cells.h"
#include "core/edit/section_edit.h"
#include "core/job_check.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::millimetres;
using geometry::Result;

namespace {

/// How far behind the last one a new row stands until its place is written.
constexpr geometry::Length k_row_step = millimetres(100.0);
/// The box of a new keep-out until its own is written.
constexpr geometry::Length k_new_box = millimetres(50.0);

Error bad(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

std::string word_of(Table table, bool many) {
    switch (table) {
        case Table::mounts:
            return many ? "mounts" : "mount";
        case Table::stations:
            return many ? "stations" : "station";
        case Table::doors:
            return many ? "doors" : "door";
        case Table::keep_outs:
            break;
    }
    return many ? "keep-outs" : "keep-out";
}

/// "mount H9", "station 4"; of a door and a keep-out the name says enough.
std::string row_words(const Job& job, Table table, std::size_t row) {
    const std::string name = cell(job, table, row, 0);
    return table == Table::mounts || table == Table::stations ? word_of(table, false) + " " + name : name;
}

template <class Row>
std::vector<std::string> names(const std::vector<Row>& rows) {
    std::vector<std::string> all;
    for (const Row& row : rows) {
        all.push_back(row.name);
    }
    return all;
}

template <class Row>
std::string free_name(const std::vector<Row>& rows, const std::string& stem) {
    const auto all = names(rows);
    return next_name({all.begin(), all.end()}, stem);
}

void append_mount(Job& job) {
    Mount mount;
    mount.name = free_name(job.mounts, "H");
    if (!job.mounts.empty()) {
        const Position& last = job.mounts.back().at;
        mount.at = {entry(last.along.value + k_row_step), entry(last.out.value), entry(last.up.value)};
    } else if (!job.stations.empty()) {
        mount.at.along = entry(job.stations.front().along.value);
    }
    job.mounts.push_back(std::move(mount));
}

void append_station(Job& job) {
    Station station;
    station.name =
        numbered_in_order(job.stations) ? std::to_string(job.stations.size() + 1) : free_name(job.stations, "station ");
    if (!job.stations.empty()) {
        station.along = entry(job.stations.back().along.value + k_row_step);
    }
    job.stations.push_back(std::move(station));
}

void append_keep_out(Job& job) {
    KeepOut keep_out;
    keep_out.name = free_name(job.keep_outs, "keep-out ");
    if (!job.keep_outs.empty()) {
        keep_out.from.along = entry(job.keep_outs.back().to.along.value);
    } else if (!job.stations.empty()) {
        keep_out.from.along = entry(job.stations.front().along.value);
    }
    keep_out.to.along = entry(keep_out.from.along.value + k_row_step);
    keep_out.to.out = entry(k_new_box);
    keep_out.to.up = entry(k_new_box);
    job.keep_outs.push_back(std::move(keep_out));
}

void append_row(Job& job, Table table) {
    switch (table) {
        case Table::mounts:
            append_mount(job);
            return;
        case Table::stations:
            append_station(job);
            return;
        case Table::doors:
            job.doors.push_back(new_door(job));
            return;
        case Table::keep_outs:
            break;
    }
    append_keep_out(job);
}

/// What names stations and doors follows their new names.
void follow_names(const Job& before, Job& after) {
    follow_station_names(after, names(before.stations));
    std::map<std::string, std::string> renamed;
    for (std::size_t i = 0; i < before.doors.size() && i < after.doors.size(); ++i) {
        renamed.emplace(before.doors[i].name, after.doors[i].name);
    }
    for (Piece& piece : after.skirt.pieces) {
        if (const auto found = renamed.find(piece.carried_by); found != renamed.end()) {
            piece.carried_by = found->second;
        }
    }
}

/// A cell that a fault of the whole job is about.
struct FaultyCell {
    std::size_t row;
    std::string column;  ///< Empty if it is about the whole row.
};

std::optional<FaultyCell> faulty_cell(Table table, const std::string& pointer) {
    const std::string list = list_pointer(table) + "/";
    if (!pointer.starts_with(list)) {
        return std::nullopt;
    }
    const auto end = pointer.find('/', list.size());
    FaultyCell cell{std::stoul(pointer.substr(list.size(), end - list.size())), ""};
    const std::string field = end == std::string::npos ? "" : pointer.substr(end);
    for (const Column& column : columns_of(table)) {
        cell.column = field == column.pointer ? column.about.name : cell.column;
    }
    return cell;
}

/// The whole job looked at after cells were written. `line_of`: the words that lead an error about a row.
template <class LineOf>
Result<Edit> checked_cells(const Job& before, Job after, Table table, std::string words, const LineOf& line_of) {
    follow_names(before, after);
    if (auto passed = passed_run_out(before, after)) {
        return bad(std::move(*passed));
    }
    if (const auto fault = first_fault(after)) {
        const auto cell = faulty_cell(table, fault->pointer);
        if (cell) {
            return bad(line_of(cell->row) + fault->by_hand);
        }
    }
    return checked_edit(std::move(after), std::move(words));
}

}  // namespace

const std::vector<TableColumn>& columns(Table table) {
    const auto abouts = [](Table of) {
        std::vector<TableColumn> all;
        for (const Column& column : columns_of(of)) {
            all.push_back(column.about);
        }
        return all;
    };
    static const std::map<Table, std::vector<TableColumn>> all{{Table::mounts, abouts(Table::mounts)},
                                                               {Table::stations, abouts(Table::stations)},
                                                               {Table::doors, abouts(Table::doors)},
                                                               {Table::keep_outs, abouts(Table::keep_outs)}};
    return all.at(table);
}

std::size_t row_count(const Job& job, Table table) {
    switch (table) {
        case Table::mounts:
            return job.mounts.size();
        case Table::stations:
            return job.stations.size();
        case Table::doors:
            return job.doors.size();
        case Table::keep_outs:
            break;
    }
    return job.keep_outs.size();
}

std::string cell(const Job& job, Table table, std::size_t row, std::size_t column) {
    return columns_of(table).at(column).read(job, row);
}

Result<Edit> write_cell(const Job& job, Table table, std::size_t row, std::size_t column, const std::string& text) {
    const Column& which = columns_of(table).at(column);
    Job changed = job;
    if (auto status = which.write(changed, row, text); !status) {
        return bad(which.about.name + ": " + status.error().message);
    }
    return checked_cells(job, std::move(changed), table,
                         "write " + which.about.name + " of " + row_words(job, table, row),
                         [](std::size_t) { return std::string(); });
}

Result<Edit> paste(const Job& job, Table table, std::size_t row, std::size_t column, const std::string& text) {
    const auto lines = pasted_cells(text);
    if (!lines) {
        return lines.error();
    }
    const auto line_words = [row](std::size_t at) {
        return at < row ? std::string() : "Line " + std::to_string(at - row + 1) + ": ";
    };
    const std::vector<Column>& all = columns_of(table);
    Job changed = job;
    std::size_t count = 0;
    for (std::size_t i = 0; i < lines.value().size(); ++i) {
        const std::vector<std::string>& cells = lines.value()[i];
        if (column + cells.size() > all.size()) {
            return bad("Line " + std::to_string(i + 1) + " has " + std::to_string(cells.size()) + " cells, but from " +
                       all.at(column).about.name + " on there are " + std::to_string(all.size() - column) +
                       " columns. Paste it further left, or copy fewer cells.");
        }
        while (row + i >= row_count(changed, table)) {
            append_row(changed, table);
        }
        for (std::size_t k = 0; k < cells.size(); ++k) {
            if (auto status = all[column + k].write(changed, row + i, cells[k]); !status) {
                return bad("Line " + std::to_string(i + 1) + ", " + all[column + k].about.name + ": " +
                           status.error().message);
            }
            ++count;
        }
    }
    if (count == 0) {
        return bad("There is nothing to paste. Copy cells in a spreadsheet first.");
    }
    return checked_cells(
        job, std::move(changed), table,
        "paste " + std::to_string(count) + (count == 1 ? " cell into " : " cells into ") + word_of(table, true),
        line_words);
}

Result<Edit> add_row(const Job& job, Table table) {
    Job changed = job;
    append_row(changed, table);
    const std::string words = "add " + row_words(changed, table, row_count(changed, table) - 1);
    return checked_edit(std::move(changed), words);
}

Result<Edit> delete_rows(const Job& job, Table table, const std::vector<std::size_t>& rows) {
    const std::set<std::size_t, std::greater<>> from_last(rows.begin(), rows.end());
    if (from_last.empty()) {
        return bad("No row is chosen. Choose the rows to delete.");
    }
    if (*from_last.begin() >= row_count(job, table)) {
        return bad("There is no row " + std::to_string(*from_last.begin() + 1) + " in the list.");
    }
    Job changed = job;
    std::string what;
    for (const std::size_t row : from_last) {
        what = cell(job, table, row, 0) + (what.empty() ? "" : ", ") + what;
        const auto at = static_cast<std::ptrdiff_t>(row);
        switch (table) {
            case Table::mounts:
                changed.mounts.erase(changed.mounts.begin() + at);
                break;
            case Table::stations: {
                auto left = delete_station(changed, changed.stations[row].name);
                if (!left) {
                    return left.error();
                }
                changed = std::move(left).value().job;
                break;
            }
            case Table::doors:
                changed.doors.erase(changed.doors.begin() + at);
                break;
            case Table::keep_outs:
                changed.keep_outs.erase(changed.keep_outs.begin() + at);
                break;
        }
    }
    return checked_edit(std::move(changed), "delete " + word_of(table, from_last.size() > 1) + " " + what);
}

}  // namespace sillwright::core
