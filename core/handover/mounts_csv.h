#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// The mounts as a table: RFC 4180, UTF-8, lines ended by CR LF, names of columns with
/// their units first. A number keeps every digit; what is not measured is an empty
/// field, and so is y where the distance to the mid-plane is not measured.
///
/// A mount's findings are those whose id is "mounts/NAME/..."; `state` is the worst.
std::string mounts_csv(const Job& job, const std::vector<Finding>& findings);

}  // namespace sillwright::core
