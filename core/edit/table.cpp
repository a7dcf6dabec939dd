#include "core/edit/table.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <utility>

#include "core/edit/cell.h"
#include "core/edit/columns.h"
#include "core/edit/drawn_change.h"
#include "core/edit/new_names.h"
#include "core/edit/new_parts.h"
#include "core/edit/pasted_cells.h"
#include "core/edit/row_owner.h"
#include "core/edit/section_edit.h"
#include "core/edit/table_rows.h"
#include "core/job_check.h"
#include "core/job_file/words.h"
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
/// A new flute and a new recess until their own numbers are written.
constexpr geometry::Length k_new_flute_offset = millimetres(15.0);
constexpr geometry::Length k_new_flute_width = millimetres(10.0);
constexpr geometry::Length k_new_flute_depth = millimetres(3.0);
constexpr geometry::Length k_new_recess_offset = millimetres(30.0);
constexpr geometry::Length k_new_recess_length = millimetres(100.0);
constexpr geometry::Length k_new_recess_width = millimetres(40.0);
constexpr geometry::Length k_new_recess_depth = millimetres(2.0);
/// How far above the last one a new gauge point stands until it is written.
constexpr geometry::Length k_gauge_step = millimetres(10.0);

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
            return many ? "keep-outs" : "keep-out";
        case Table::drains:
            return many ? "drains" : "drain";
        case Table::flutes:
            return many ? "flutes" : "flute";
        case Table::recesses:
            return many ? "recesses" : "recess";
        case Table::generations:
            return many ? "generations" : "generation";
        case Table::ticks:
            return many ? "ticks" : "tick";
        case Table::machines:
            return many ? "machines" : "machine";
        case Table::stock:
            return many ? "stock sizes" : "stock size";
        case Table::bits:
            return many ? "bits" : "bit";
        case Table::gauge_points:
            return many ? "gauge points" : "gauge point";
        case Table::boards:
            return many ? "boards" : "board";
        case Table::defects:
            break;
    }
    return many ? "defects" : "defect";
}

/// What a row is called: its name, or where it is.
std::string row_name(const Job& job, Table table, std::size_t row) {
    const std::string first = cell(job, table, row, 0);
    switch (table) {
        case Table::drains:
            return "at " + first;
        case Table::gauge_points:
            return "at station " + first;
        default:
            return first;
    }
}

/// "mount H9", "flute 4"; not "flute flute 4".
std::string word_and_name(Table table, const std::string& name) {
    const std::string word = word_of(table, false);
    return name.starts_with(word + " ") ? name : word + " " + name;
}

/// As word_and_name; of a door and a keep-out the name says enough.
std::string row_words(const Job& job, Table table, std::size_t row) {
    const std::string name = row_name(job, table, row);
    return table == Table::doors || table == Table::keep_outs ? name : word_and_name(table, name);
}

/// "mount H9", "flutes 1, 2".
std::string words_of_rows(const Job& job, Table table, const std::set<std::size_t, std::greater<>>& from_last) {
    if (from_last.size() == 1) {
        return word_and_name(table, row_name(job, table, *from_last.begin()));
    }
    if (table == Table::gauge_points) {
        return std::to_string(from_last.size()) + " " + word_of(table, true);
    }
    const std::string word = word_of(table, false) + " ";
    std::string all;
    for (const std::size_t row : from_last) {
        std::string name = row_name(job, table, row);
        name.erase(0, name.starts_with(word) ? word.size() : 0);
        all = name + (all.empty() ? "" : ", ") + all;
    }
    return word_of(table, true) + " " + all;
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

void append_drain(Job& job, std::vector<DrainHole>& drains) {
    DrainHole drain;
    const Entry& least = job.road.drain_least;
    drain.size = entry(least.value > geometry::Length{} ? least.value : Road{}.drain_least.value);
    if (!drains.empty()) {
        drain.along = entry(drains.back().along.value + k_row_step);
    } else if (!job.stations.empty()) {
        drain.along = entry(job.stations.front().along.value);
    }
    drains.push_back(std::move(drain));
}

void append_flute(const Job& job, std::vector<Flute>& flutes, std::string name) {
    Flute flute{std::move(name),
                entry(k_new_flute_offset),
                entry(k_new_flute_width),
                entry(k_new_flute_depth),
                {},
                {},
                {},
                {},
                {}};
    if (!flutes.empty()) {
        const Flute& last = flutes.back();
        flute.offset = entry(last.offset.value + last.width.value + job.forming.router.land_least.value);
        flute.width = last.width;
        flute.depth = last.depth;
        flute.bottom_radius = last.bottom_radius;
        flute.bit = last.bit;
    }
    flutes.push_back(std::move(flute));
}

void append_recess(const Job& job, std::vector<Recess>& recesses, std::string name) {
    Recess recess;
    recess.name = std::move(name);
    if (!job.stations.empty()) {
        recess.along = entry(0.5 * (job.stations.front().along.value + job.stations.back().along.value));
    }
    recess.offset = entry(k_new_recess_offset);
    recess.length = entry(k_new_recess_length);
    recess.width = entry(k_new_recess_width);
    recess.depth = entry(k_new_recess_depth);
    recesses.push_back(std::move(recess));
}

/// The step that comes behind the last one: plug, female, male, sheet.
void append_generation(std::vector<Generation>& generations) {
    Generation generation;
    if (!generations.empty()) {
        const GenerationKind last = generations.back().kind;
        generation.kind = last == GenerationKind::plug     ? GenerationKind::female
                          : last == GenerationKind::female ? GenerationKind::male
                                                           : GenerationKind::sheet;
    }
    const std::string word = word_cell(job_file::k_generation_words, generation.kind);
    const std::vector<std::string> taken = names(generations);
    generation.name = std::find(taken.begin(), taken.end(), word) == taken.end()
                          ? word
                          : next_name({taken.begin(), taken.end()}, word + " ");
    generations.push_back(std::move(generation));
}

template <class Row>
void append_named(std::vector<Row>& rows, std::string name) {
    rows.emplace_back();
    rows.back().name = std::move(name);
}

/// Of all rows of a table.
template <class Row>
std::string free_name_in_table(const Job& job, const std::string& stem) {
    std::set<std::string> taken;
    for (const auto* list : RowsOf<Row>::of(job)) {
        for (const Row& row : *list) {
            taken.insert(row.name);
        }
    }
    return next_name(taken, stem);
}

std::string no_owner(Table table) {
    switch (table) {
        case Table::ticks:
            return "There is no generation yet that could be measured. Add the mould chain's generations first.";
        case Table::defects:
            return "There is no board yet that could have it. Add a board first.";
        case Table::gauge_points:
            return "There is no station yet at which a gauge could be read. Add a station first.";
        default:
            return "There is no drawn piece of the skirt yet that could have it. Draw the skirt first.";
    }
}

/// Of a table whose rows have owners.
geometry::Status append_owned(Job& job, Table table) {
    const std::string owner = owner_of_new(job, table);
    if (owner.empty()) {
        return bad(no_owner(table));
    }
    const std::size_t list = list_of_owner(job, table, owner);
    switch (table) {
        case Table::drains:
            append_drain(job, *RowsOf<DrainHole>::of(job)[list]);
            break;
        case Table::flutes:
            append_flute(job, *RowsOf<Flute>::of(job)[list], free_name_in_table<Flute>(job, "flute "));
            break;
        case Table::recesses:
            append_recess(job, *RowsOf<Recess>::of(job)[list], free_name_in_table<Recess>(job, "recess "));
            break;
        case Table::ticks:
            append_named(*RowsOf<Tick>::of(job)[list], free_name_in_table<Tick>(job, "tick "));
            break;
        case Table::defects:
            append_named(*RowsOf<BoardDefect>::of(job)[list], free_name_in_table<BoardDefect>(job, "defect "));
            break;
        default: {
            std::vector<GaugePoint>& points = *RowsOf<GaugePoint>::of(job)[list];
            GaugePoint point;
            if (!points.empty()) {
                point.out = entry(points.back().out.value);
                point.up = entry(points.back().up.value + k_gauge_step);
            }
            points.push_back(std::move(point));
        }
    }
    return std::monostate{};
}

geometry::Status append_row(Job& job, Table table) {
    switch (table) {
        case Table::mounts:
            append_mount(job);
            break;
        case Table::stations:
            append_station(job);
            break;
        case Table::doors:
            job.doors.push_back(new_door(job));
            break;
        case Table::keep_outs:
            append_keep_out(job);
            break;
        case Table::generations:
            append_generation(job.forming.generations);
            break;
        case Table::machines:
            append_named(job.forming.machines, free_name_in_table<Machine>(job, "machine "));
            break;
        case Table::stock:
            append_named(job.forming.stock, free_name_in_table<StockSheet>(job, "stock size "));
            break;
        case Table::bits:
            append_named(job.forming.router.bits, free_name_in_table<Bit>(job, "bit "));
            break;
        case Table::boards:
            append_named(job.buck.boards, free_name_in_table<Board>(job, "board "));
            break;
        default:
            return append_owned(job, table);
    }
    return std::monostate{};
}

/// New names by old ones, of rows that are called anew.
template <class Row>
std::map<std::string, std::string> renamed(const std::vector<Row>& before, const std::vector<Row>& after) {
    std::map<std::string, std::string> anew;
    for (std::size_t i = 0; i < before.size() && i < after.size(); ++i) {
        if (before[i].name != after[i].name) {
            anew.emplace(before[i].name, after[i].name);
        }
    }
    return anew;
}

void follow(std::string& name, const std::map<std::string, std::string>& renamed) {
    if (const auto found = renamed.find(name); found != renamed.end()) {
        name = found->second;
    }
}

/// What names stations, doors, bits, machines and boards follows their new names.
void follow_names(const Job& before, Job& after) {
    follow_station_names(after, names(before.stations));
    const auto doors = renamed(before.doors, after.doors);
    const auto bits = renamed(before.forming.router.bits, after.forming.router.bits);
    for (Piece& piece : after.skirt.pieces) {
        follow(piece.carried_by, doors);
        for (Flute& flute : piece.flutes) {
            follow(flute.bit, bits);
        }
        for (Recess& recess : piece.recesses) {
            follow(recess.bit, bits);
        }
    }
    follow(after.forming.machine, renamed(before.forming.machines, after.forming.machines));
    follow(after.buck.bit, bits);
    const auto boards = renamed(before.buck.boards, after.buck.boards);
    for (std::string* board : {&after.buck.rib_board, &after.buck.spine_board, &after.buck.base_board}) {
        follow(*board, boards);
    }
}

/// A cell that a fault of the whole job is about.
struct FaultyCell {
    std::size_t row;
    std::string column;  ///< Empty if it is about the whole row.
};

std::optional<FaultyCell> faulty_cell(const Job& job, Table table, const std::string& pointer) {
    for (std::size_t row = 0; row < row_count(job, table); ++row) {
        const std::string here = row_pointer(job, table, row);
        if (pointer != here && !pointer.starts_with(here + "/")) {
            continue;
        }
        FaultyCell cell{row, ""};
        const std::string field = pointer.substr(here.size());
        for (const Column& column : columns_of(table)) {
            cell.column = !column.is_owner() && field == column.pointer ? column.about.name : cell.column;
        }
        return cell;
    }
    return std::nullopt;
}

/// Cells as they are written one after another. Rows go to other owners when all are written, so that they keep their
/// numbers until then.
class Writing {
public:
    Writing(const Job& job, Table table) : job_{job}, table_{table} {}

    Job& job() { return job_; }

    geometry::Status write(std::size_t row, const Column& column, const std::string& text) {
        if (!column.is_owner()) {
            return column.write(job_, row, text);
        }
        const std::string name = trimmed(text);
        const std::vector<std::string> all = owners(job_, table_);
        if (std::find(all.begin(), all.end(), name) == all.end()) {
            std::string words;
            for (const std::string& one : all) {
                words += (words.empty() ? "" : ", ") + one;
            }
            return no_such_word(text, words);
        }
        owners_[row] = name;
        return std::monostate{};
    }

    /// Ends the writing. For each row as it stands then, its number while it was written.
    std::vector<std::size_t> give_rows() {
        std::vector<std::size_t> before(row_count(job_, table_));
        std::iota(before.begin(), before.end(), std::size_t{0});
        return owners_.empty() ? before : core::give_rows(job_, table_, owners_);
    }

private:
    Job job_;
    Table table_;
    std::map<std::size_t, std::string> owners_;
};

/// The whole job looked at after cells were written. `line_of`: the words that lead an error about a row.
template <class LineOf>
Result<Edit> checked_cells(const Job& before, Writing writing, Table table, std::string words, const LineOf& line_of) {
    const std::vector<std::size_t> written_at = writing.give_rows();
    Job after = std::move(writing.job());
    follow_names(before, after);
    if (auto passed = passed_run_out(before, after)) {
        return bad(std::move(*passed));
    }
    if (const auto fault = first_fault(after)) {
        const auto cell = faulty_cell(after, table, fault->pointer);
        if (cell) {
            return bad(line_of(written_at.at(cell->row)) + fault->by_hand);
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
    static const std::map<Table, std::vector<TableColumn>> all = [&] {
        std::map<Table, std::vector<TableColumn>> columns;
        for (const Table one : k_tables) {
            columns.emplace(one, abouts(one));
        }
        return columns;
    }();
    return all.at(table);
}

std::size_t row_count(const Job& job, Table table) {
    return with_rows(table, [&]<class Row>(std::type_identity<Row>) { return count_of_rows<Row>(job); });
}

std::string cell(const Job& job, Table table, std::size_t row, std::size_t column) {
    return columns_of(table).at(column).read(job, row);
}

Result<Edit> write_cell(const Job& job, Table table, std::size_t row, std::size_t column, const std::string& text) {
    const Column& which = columns_of(table).at(column);
    Writing writing(job, table);
    if (auto status = writing.write(row, which, text); !status) {
        return bad(which.about.name + ": " + status.error().message);
    }
    return checked_cells(job, std::move(writing), table,
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
    Writing writing(job, table);
    std::size_t count = 0;
    for (std::size_t i = 0; i < lines.value().size(); ++i) {
        const std::vector<std::string>& cells = lines.value()[i];
        if (column + cells.size() > all.size()) {
            return bad("Line " + std::to_string(i + 1) + " has " + std::to_string(cells.size()) + " cells, but from " +
                       all.at(column).about.name + " on there are " + std::to_string(all.size() - column) +
                       " columns. Paste it further left, or copy fewer cells.");
        }
        while (row + i >= row_count(writing.job(), table)) {
            if (auto status = append_row(writing.job(), table); !status) {
                return status.error();
            }
        }
        for (std::size_t k = 0; k < cells.size(); ++k) {
            if (auto status = writing.write(row + i, all[column + k], cells[k]); !status) {
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
        job, std::move(writing), table,
        "paste " + std::to_string(count) + (count == 1 ? " cell into " : " cells into ") + word_of(table, true),
        line_words);
}

Result<Edit> add_row(const Job& job, Table table) {
    Job changed = job;
    if (auto status = append_row(changed, table); !status) {
        return status.error();
    }
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
    for (const std::size_t row : from_last) {
        if (table == Table::stations) {
            auto left = delete_station(changed, changed.stations[row].name);
            if (!left) {
                return left.error();
            }
            changed = std::move(left).value().job;
            continue;
        }
        with_rows(table, [&]<class Row>(std::type_identity<Row>) {
            const RowPlace place = place_of_row<Row>(changed, row);
            auto& list = *RowsOf<Row>::of(changed).at(place.list);
            list.erase(list.begin() + static_cast<std::ptrdiff_t>(place.number));
        });
    }
    if (table == Table::gauge_points) {
        drop_emptied_lines(job, changed);
    }
    return checked_edit(std::move(changed), "delete " + words_of_rows(job, table, from_last));
}

}  // namespace sillwright::core
