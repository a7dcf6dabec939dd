#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "core/edit/edit.h"

/// What the measuring book keeps beside its readings, as tables of texts: points with what is known of them, set-ups,
/// instruments. Each change is one of the edits of core/edit/book_edit.h.
namespace sillwright::core {

enum class BookList { points, set_ups, instruments };

struct BookColumn {
    std::string name, help;
};
const std::vector<BookColumn>& book_columns(BookList list);
std::size_t book_rows(const Job& job, BookList list);
/// Precondition: row and column are there.
std::string book_cell(const Job& job, BookList list, std::size_t row, std::size_t column);

/// Errors: invalid_argument for a text that the column does not take, with what would be right, and as book_edit.h.
geometry::Result<Edit> write_book_cell(const Job& job, BookList list, std::size_t row, std::size_t column,
                                       const std::string& text);
/// A row with a free name: a point that readings name and that has no entry yet, if there is one.
geometry::Result<Edit> add_book_row(const Job& job, BookList list);
geometry::Result<Edit> delete_book_row(const Job& job, BookList list, std::size_t row);

/// All names that the book's readings, points and hinge sets use, in the order in which they first stand there.
std::vector<std::string> names_in_book(const survey::Book& book);

}  // namespace sillwright::core
