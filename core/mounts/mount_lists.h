#pragma once

#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// What is said of the mounts as a whole: `mounts/measured` if there is none,
/// `mounts/used` if none of those there are is used for the flange, `mounts/unused`
/// with a list of those left over, and `mounts/top edge` on how the top edge is fixed.
///
/// Top edge: a piece that is screwed there needs a mount used for it within its
///   stretch of the car; tape, and none, need none. Not said is not measured.
std::vector<Finding> mount_list_findings(const Job& job);

}  // namespace sillwright::core
