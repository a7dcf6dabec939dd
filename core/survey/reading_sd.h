#pragma once

#include <optional>

#include "core/entry.h"
#include "core/survey/book.h"
#include "geometry/units.h"

/// How sure a reading is. `reading_sd` itself is declared in core/survey/solution.h.
///
/// The reading's own sd wins, then the instrument's. Else the sd is joined in square from
///   - the instrument: a tape's largest error over sqrt(3) (a rectangle, as GUM 4.3.7); others by common practice, no
///     source: see k_usual_... in reading_sd.cpp;
///   - who holds and reads it, if the instrument says (of a tape with no name: 0.7 mm, common practice, no source);
///   - the step in which the number was written (written_step), over sqrt(12).
/// A reading that names no instrument is made with the usual one of its kind.
namespace sillwright::core::survey {

/// Largest error of a tape at this length: a + b·L, L in whole metres rounded up, + c from the hook.
/// Source: Directive 2014/32/EU, annex X (MI-008), chapter I: classes I, II, III have a 0.1, 0.3, 0.6 mm; b 0.1, 0.2,
///   0.4 mm; c 0.1, 0.2, 0.3 mm.
geometry::Length tape_largest_error(TapeClass tape_class, bool hook, geometry::Length length);

/// Largest error of a calliper that reads 0.05 mm: 0.05 mm to 300 mm, then 0.01 mm more each 100 mm; 0.02 mm more for
/// inside and depth.
/// Source: DIN 862, the vernier of 0.05 mm.
geometry::Length calliper_largest_error(bool inside, geometry::Length length);

/// The step in which a length was written: the last digit of a decimal number in its unit; in inches without decimals
/// 1/16 in, or the fraction's denominator where that is finer (a tape read at 1/2 in was read to 1/16, too). None if
/// the entry has no words.
std::optional<geometry::Length> written_step(const Entry& entry);

/// The instrument of a reading: the one it names, else (or if the book has none of that name) the usual one.
Instrument instrument_of(const Book& book, const Reading& reading);

/// Of one number of a reading (a gauge has three: core/survey/shown.h), mm or rad. That a gauge's point lies in the
/// section plane is held to 1 mm (common practice, no source).
/// Errors: none; not a positive number if what the book says is none.
double number_sd(const Book& book, const Reading& reading, int number);

}  // namespace sillwright::core::survey
