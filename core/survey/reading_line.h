#pragma once

#include <cstddef>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "core/entry.h"
#include "core/survey/book.h"
#include "geometry/result.h"

namespace sillwright::core::survey {

/// How many points a kind of reading names.
struct PointCount {
    std::size_t least = 2, most = 2;
};
PointCount points_in_line(ReadingKind kind);

/// The word that begins a line of that kind, as in the job file: "tie", "height", ...
std::string kind_word(ReadingKind kind);

/// A line as it should be written: "height A H1 -212".
std::string example_line(ReadingKind kind);

/// One reading as it is shouted from under the car, one line:
///
///   E H1 1473.5            a tie, the usual kind: from, to, length
///   height A H1 -212       the kind, then its points in the order of ReadingKind, then the value
///   gauge A P1 412 188     two values, out and up; a semicolon between them where they could be parted in two ways
///   gap D1 5.2             one point or two
///   angle A B C 62.5       degrees
///   ... @lift by steel tape sd 0.8 trace 2 # under the seam
///
/// Points are parted by spaces. A name that has spaces, begins with @ or # or is one of the words above stands in
///   quotation marks: "rear pin". Lengths are read as everywhere (geometry/length_text.h) and kept as typed.
/// The tail may stand in any order: @ set-up, `by` instrument (up to the next word of the tail), `sd` (degrees for
/// angle
///   and slope), `trace` of a gauge, # note to the end of the line.
/// The reading's id is new. `set_up`: its set-up if the line names none.
/// Errors: invalid_argument, "Column 9: ...": what is wrong and what would be right; columns from 1, in characters.
///   Too few or too many names, the same name twice, no value, a negative tie, gap or depth, an angle out of range,
///   a set-up or instrument that is not in the book.
geometry::Result<Reading> reading_of_line(const std::string& line, const Book& book, BareUnit unit,
                                          const std::string& set_up = {});

/// The same for a reading that is put together otherwise (a row of a table): what cannot be meant.
/// Errors: invalid_argument, without a column.
geometry::Status reading_fault(const Reading& reading, const Book& book, BareUnit unit);

/// How a reading reads as a line; reading_of_line gives the same reading again (but for its id, and why it is dropped).
std::string line_of_reading(const Reading& reading, BareUnit unit);

/// What is asked about before a reading is taken: sentences. A new name that differs from one in the book only by
/// capital letters, spaces or hyphens; the same reading standing in the book already.
class ReadingRemarks {
public:
    ReadingRemarks(const Book& book, BareUnit unit);
    [[nodiscard]] std::vector<std::string> on(const Reading& reading) const;
    /// It stands there from now on; `place` is how it is called: "reading 12", "row 4".
    void add(const Reading& reading, const std::string& place);

private:
    BareUnit unit_;
    std::map<std::string, std::set<std::string>> names_;  ///< By their letters alone.
    std::map<std::string, std::string> places_;           ///< By what was read.
};
std::vector<std::string> remarks_on(const Reading& reading, const Book& book, BareUnit unit);

/// "r12": a number above all in the book. Readings never leave a book, so no id is given twice.
std::string next_reading_id(const Book& book);

}  // namespace sillwright::core::survey
