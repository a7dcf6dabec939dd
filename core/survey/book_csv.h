#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "core/entry.h"
#include "core/survey/book.h"
#include "geometry/result.h"

/// The book's readings as rows of a spreadsheet, in and out.
///
/// The first row names the columns, in any order, in small or capital letters:
///   from, to, third, fourth     the points (also: point 1 ... point 4)
///   value                       the length, or degrees (also: reading, length, distance, out)
///   up                          a gauge's second length
///   kind                        as in a line of the book; a tie, or a gauge where there is `up`, if it is left out
///   trace, set-up, instrument, sd, note, dropped
///   unit                        of the row's bare numbers; `value (in)` is one for all rows
/// Columns of other names are left out, and that is remarked.
namespace sillwright::core::survey {

/// A row that was not taken.
struct CsvRefusal {
    std::size_t row = 0, column = 0;  ///< From 1.
    std::string column_name;          ///< As the header has it; empty if it has none there.
    std::string why;                  ///< What is wrong, and what would be right.
    std::string text;                 ///< The row as it stands in the file.
};

/// A row that was taken, with something to look at.
struct CsvRemark {
    std::size_t row = 0, column = 0;
    std::string column_name;
    std::string words;
};

struct CsvBook {
    std::vector<Reading> readings;                          ///< In the order of the rows; ids are to be given yet.
    std::vector<std::size_t> rows;                          ///< Of each.
    std::vector<std::string> new_set_ups, new_instruments;  ///< That the book has not; remarked.
    std::vector<CsvRefusal> refused;
    std::vector<CsvRemark> remarks;
    char separator = ',';
    bool decimal_comma = false;
    std::string header;  ///< The first row as it stands in the file.
};

/// What a CSV file says. Separators , ; tab and | are told apart, so are decimal commas. Good rows are taken, whatever
/// the others are.
/// Remarks: lengths in another unit than the file's bare numbers; names that are easily mixed up with others; a row
/// that
///   stands there, or in the book, already; a thousands sign read as a decimal one; new set-ups and instruments.
/// Errors: as csv_characters; unreadable_file, with row and column, for no row at all, no known column, a column named
///   twice, no reading below the header.
geometry::Result<CsvBook> book_of_csv(std::string_view bytes, const Book& book, BareUnit unit);

/// "Row 4, column 3 (value): ..."
std::string words_of(const CsvRefusal& refusal);
std::string words_of(const CsvRemark& remark);

/// The rows that were not taken under their header, as they stood: to be mended and taken again. Empty if there are
/// none.
std::string refused_csv(const CsvBook& csv);

/// All readings of a book, dropped ones too. book_of_csv gives them again, their lengths as they were typed.
std::string csv_of_book(const Book& book, BareUnit unit);

}  // namespace sillwright::core::survey
