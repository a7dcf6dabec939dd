#pragma once

#include <cstddef>

#include "core/survey/solution.h"

namespace sillwright::core::survey {

/// How well the other readings check one.
enum class Checked {
    by_others,  ///< A misreading of it shows.
    hardly,     ///< A misreading goes mostly into the points.
    not_at_all  ///< It is the only reading that says so: nothing else would show a misreading.
};

/// A share of the degrees of freedom below this checks a reading hardly: accept it by name only.
/// Source: common practice, no source.
constexpr double k_hardly_checked = 0.15;

/// By the least of a reading's numbers. Exactly k_hardly_checked counts as checked.
/// Precondition: it is used.
Checked how_checked(const ReadingResult& reading);

/// Lines of a section stand alone by their nature, and so does a number at one place: these want no check.
bool wants_check(const Reading& reading);

/// Readings that count, want a check, and that nothing else checks.
/// Precondition: the solution is the book's.
std::size_t count_unchecked(const Book& book, const Solution& solution);

}  // namespace sillwright::core::survey
