#pragma once

#include <string>

#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::app {

/// "123.4": a length as a bare number in a job's unit, with as many digits as a rule is read
/// to: tenths of a millimetre, hundredths of a centimetre or of an inch. Never a negative zero.
std::string short_number(geometry::Length length, core::BareUnit unit);

/// The same without noughts at its end: "123", "9.5".
std::string shortest_words(geometry::Length length, core::BareUnit unit);

/// "2.03": as fine as a micrometer reads: hundredths of a millimetre, thousandths of a centimetre or of an inch.
std::string fine_number(geometry::Length length, core::BareUnit unit);

/// "mm", "cm", "in".
std::string unit_word(core::BareUnit unit);

/// An entry as it reads on a drawing: the words that it was typed in, else shortest_words.
std::string entry_words(const core::Entry& entry, core::BareUnit unit);

}  // namespace sillwright::app
