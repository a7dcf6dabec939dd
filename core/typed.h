#pragma once

#include <functional>
#include <string>

#include "core/job.h"
#include "geometry/result.h"

namespace sillwright::core {

/// The length of a bare number in a job.
geometry::Length from_unit(double number, BareUnit unit);
/// A length as a bare number in `unit`: the fewest digits that from_unit turns
/// into the same length again, or the nearest number where none does.
double to_unit(geometry::Length length, BareUnit unit);

/// An entry as a person typed it: `38`, `1 1/2"`, `2 ft 3 in`; a bare number is
/// in `unit`. The words are kept.
/// Errors: invalid_argument, with the column and what would be right.
geometry::Result<Entry> typed_entry(const std::string& text, BareUnit unit);

/// An entry that the program made: no words.
Entry entry(geometry::Length value);

/// How an entry reads: the words it was typed in, else the bare number.
std::string entry_text(const Entry& entry, BareUnit unit);

/// The number nearest to `rough` with the fewest digits (15 to 17) for which
/// `same` holds; `rough` itself if there is none.
double shortest_number(double rough, const std::function<bool(double)>& same);

}  // namespace sillwright::core
