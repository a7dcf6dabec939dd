#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "core/edit/table.h"

/// What the rows of a table belong to, where the table's rows stand in several lists: flutes, recesses and drains to a
/// piece, ticks to a generation, gauge points to a station, defects to a board.
namespace sillwright::core {

/// All names that may stand there; none for a table whose rows stand in one list.
std::vector<std::string> owners(const Job& job, Table table);

/// Precondition: there is such a row, of a table whose rows have owners.
std::string owner_of(const Job& job, Table table, std::size_t row);

/// That of a new row: the last row's, else the first drawn piece, the generation behind the plug, the first station or
/// board. Empty if there is none.
std::string owner_of_new(const Job& job, Table table);

/// Rows given to other owners, behind those that are there; in one go, so that rows keep their order. A gauge line is
/// made where a station has none, and goes with its last point.
/// Returns, for each row as it stands now, its number before.
/// Precondition: the names are among `owners`.
std::vector<std::size_t> give_rows(Job& job, Table table, const std::map<std::size_t, std::string>& to);

/// The number of an owner's list among those that the table's rows stand in; a gauge line is made if need be.
/// Precondition: the name is among `owners`.
std::size_t list_of_owner(Job& job, Table table, const std::string& owner);

/// Takes gauge lines out that have no point left but had one before.
void drop_emptied_lines(const Job& before, Job& after);

}  // namespace sillwright::core
