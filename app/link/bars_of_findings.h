#pragma once

#include <vector>

#include "app/drawings/bars_picture.h"
#include "core/finding.h"

namespace sillwright::app {

/// What to measure better first: for each door and what it must clear, what makes the needed gap as large as it is by
/// being unsure. One bar for each finding of a swing that has such parts, worst margin first; of one door and one body
/// the worst alone.
BarsPicture bars_of_findings(const std::vector<core::Finding>& findings);

}  // namespace sillwright::app
