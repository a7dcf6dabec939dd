#pragma once

#include <string>

#include "core/job.h"
#include "geometry/units.h"

/// The unit that a hand aims at, by the unit that a job is written in.
namespace sillwright::core {

/// A millimetre; a sixteenth of an inch in a job in inches.
geometry::Length whole_unit(BareUnit unit);
/// The nearest whole number of them.
geometry::Length to_whole_unit(geometry::Length length, BareUnit unit);
/// "whole millimetres", "sixteenths of an inch"
std::string whole_unit_words(BareUnit unit);

}  // namespace sillwright::core
