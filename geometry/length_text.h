#pragma once

#include <string>
#include <string_view>

#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// A unit that lengths are written in.
enum class WrittenUnit { mm, cm, in };

/// Reads a length as people write it: `38`, `38.5 mm`, `38,5 mm`, `4.1 cm`,
/// `0.4 m`, `1.5 in`, `1 1/2"`, `16-1/4"`, `3'-4 1/2"`, `2 ft 3 in`, `1' 4 1/4"`.
///
/// Units and frame: a number without a unit is in `bare_unit`; after feet it is
///   in inches. A fraction without a unit is read only where `bare_unit` is
///   inches, as nobody writes fractions of millimetres.
/// Shape: a sign, then one number with one unit, or whole feet with inches below
///   12. A number is decimal (point or comma), a fraction, or a whole number with
///   a fraction below one after a space or a hyphen. Units in small or capital
///   letters, a full stop after them allowed; typographic primes, quotes, minus
///   signs, spaces and the signs for halves, quarters and eighths are understood.
///   A comma before exactly three digits is refused (1,234 may be meant either
///   way) unless all before it is 0. No exponent, no `nan`, no `inf`. A sum is understood,
///   `412+3`, where all of its numbers have a unit or none has.
/// Accuracy: the nearest double, to a few units in its last place. Does not
///   depend on the locale.
/// Errors: invalid_argument naming the column (from 1, in characters) and what
///   would be right; also for lengths beyond 1000 km.
Result<Length> read_length(std::string_view text, WrittenUnit bare_unit);

/// `38.50 mm`: the number with `decimals` digits after the point, and the unit.
/// Never prints a negative zero, and does not depend on the locale.
///
/// Accuracy: rounded correctly from the stored millimetres over the unit; read
///   back it is off by half a unit of the last digit at most.
/// Errors: none; a length that is not finite prints as `not a number`.
///   Precondition: 0 <= decimals <= 17.
std::string print_length(Length length, WrittenUnit unit, int decimals);

/// A length to the nearest fraction of an inch.
struct InchFraction {
    std::string text;  ///< In lowest terms, as `16 1/4"`; begins with `about ` if not exact.
    Length nearest;    ///< What the text without `about ` says.
    bool exact;        ///< The two lengths are within 1e-9 mm of each other.
};

/// Errors: invalid_argument for a denominator outside 1..1024, or a length that
///   is not finite or beyond 1000 km.
Result<InchFraction> print_inch_fraction(Length length, int denominator);

}  // namespace sillwright::geometry
