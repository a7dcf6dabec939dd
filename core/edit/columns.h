#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "core/edit/table.h"

namespace sillwright::core {

/// A column of a table and how its cells are read and written.
/// `write` looks at the text alone; what the job as a whole cannot be is found by checked_edit.
struct Column {
    TableColumn about;
    /// Where the job file has it, below the row's own object: "/at/along". So a fault of the
    /// whole job (job_check.h) finds its cell. Empty for the row's owner.
    std::string pointer;
    std::function<std::string(const Job&, std::size_t row)> read;
    /// None for the row's owner (row_owner.h): that moves the row.
    std::function<geometry::Status(Job&, std::size_t row, const std::string& text)> write;

    [[nodiscard]] bool is_owner() const { return !write; }
};

/// To add a column to a table, add it here.
const std::vector<Column>& columns_of(Table table);

/// Where the job file has a row: "/mounts/3", "/skirt/pieces/0/flutes/1". Precondition: there is such a row.
std::string row_pointer(const Job& job, Table table, std::size_t row);

}  // namespace sillwright::core
