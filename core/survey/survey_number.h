#pragma once

#include <string>

#include "core/entry.h"
#include "core/survey/book.h"

namespace sillwright::core::survey {

/// A number of a reading of that kind as a bare number in the job's unit, as fine as a tape is read: tenths of a
/// millimetre, hundredths of a centimetre, thousandths of an inch; of angle and slope degrees, "62.50°".
/// `value` in mm, or rad.
std::string survey_number(double value, ReadingKind kind, BareUnit unit);

/// The unit of such a number behind it: " mm", or nothing for degrees.
std::string survey_unit(ReadingKind kind, BareUnit unit);

}  // namespace sillwright::core::survey
