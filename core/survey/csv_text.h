#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/result.h"

/// Text of rows and cells as spreadsheets write it (RFC 4180, with the separators that they use).
namespace sillwright::core::survey {

/// One row.
struct CsvRecord {
    std::size_t row = 0;             ///< From 1, as a spreadsheet numbers it.
    std::vector<std::string> cells;  ///< Without their quotation marks.
    std::string text;                ///< As it stands in the file, without its line end.
    bool open = false;               ///< A quoted cell of it does not end.
};

/// The text of a file, without a byte order mark.
/// Errors: unreadable_file for UTF-16, and for bytes that are not UTF-8: row, column and byte of the first, and how to
///   save the file instead.
geometry::Result<std::string> csv_characters(std::string_view bytes);

/// The rows of a text, empty ones left out but counted. A cell that begins with a quotation mark may hold separators,
/// line ends and doubled quotation marks; within another cell a quotation mark stands for itself, as in 16 1/4". Where
/// a quoted cell does not end, its line alone is the row, and it is open.
std::vector<CsvRecord> csv_records(std::string_view text, char separator);

/// A cell as it must be written.
std::string csv_cell(const std::string& text, char separator);

}  // namespace sillwright::core::survey
