#pragma once

#include "app/drawings/differences_picture.h"
#include "core/survey/results.h"

namespace sillwright::app {

/// Left against right; says what is missing where there is nothing to compare with.
DifferencesPicture side_differences(const core::survey::Results& results);
/// On wheels against on the lift.
DifferencesPicture set_up_differences(const core::survey::Results& results);

}  // namespace sillwright::app
