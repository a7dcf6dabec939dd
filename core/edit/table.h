#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "core/edit/edit.h"

namespace sillwright::core {

/// A list of a job as rows and columns of text, as it is typed and pasted. Drains, flutes, recesses stand there piece
/// by piece, ticks generation by generation, gauge points station by station, defects board by board: a column says of
/// which a row is.
enum class Table {
    mounts,
    stations,
    doors,
    keep_outs,
    drains,
    flutes,
    recesses,
    generations,
    ticks,
    machines,
    stock,
    bits,
    gauge_points,
    boards,
    defects
};
inline constexpr std::array k_tables{Table::mounts,       Table::stations, Table::doors,    Table::keep_outs,
                                     Table::drains,       Table::flutes,   Table::recesses, Table::generations,
                                     Table::ticks,        Table::machines, Table::stock,    Table::bits,
                                     Table::gauge_points, Table::boards,   Table::defects};

struct TableColumn {
    std::string name;  ///< "along", "hole", "grip, least"
    std::string help;  ///< What may be written there, in one sentence.
};

const std::vector<TableColumn>& columns(Table table);
std::size_t row_count(const Job& job, Table table);
/// Empty for what is not measured. Precondition: row and column are there.
std::string cell(const Job& job, Table table, std::size_t row, std::size_t column);

/// One cell written anew; empty text means not measured.
/// Sections follow a station that is called anew, pieces a door, flutes and the buck a bit, the choice of a machine its
/// name, and so do the choices of boards. A row that is given to another piece, generation, station or board goes
/// behind those that are there.
/// Errors: invalid_argument, with the column's name and what would be right; as checked_edit.
geometry::Result<Edit> write_cell(const Job& job, Table table, std::size_t row, std::size_t column,
                                  const std::string& text);
/// Lines of cells (parted by tabs or semicolons, as a spreadsheet copies them) written from a
/// cell on, to the right and down; lines beyond the last row make new rows. Looked at as a whole: names may change
/// about, stations may pass one another.
/// Errors: as write_cell, led by the line's number; then nothing is written at all.
geometry::Result<Edit> paste(const Job& job, Table table, std::size_t row, std::size_t column, const std::string& text);
/// A new last row with a free name and nothing measured but what it cannot be without: a place 100 mm
/// behind the last one, a box of 100 by 50 by 50 mm, a flute like the last one beside it.
/// Errors: invalid_argument if there is nothing yet that such a row could belong to; as checked_edit.
geometry::Result<Edit> add_row(const Job& job, Table table);
geometry::Result<Edit> delete_rows(const Job& job, Table table, const std::vector<std::size_t>& rows);

}  // namespace sillwright::core
