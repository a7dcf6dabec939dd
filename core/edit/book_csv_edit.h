#pragma once

#include "core/edit/edit.h"
#include "core/survey/book_csv.h"

namespace sillwright::core {

/// The rows of a CSV file that were taken, at the end of the book, as one change; set-ups and instruments that are new
/// come into the book too.
/// Errors: as core/edit/book_edit.h.
geometry::Result<Edit> add_csv(const Job& job, const survey::CsvBook& csv);

}  // namespace sillwright::core
