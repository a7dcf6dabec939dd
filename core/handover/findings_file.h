#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// Every finding for a person to read, worst first, those that are not measured too:
/// numbers, place, why, what goes in, formula, source, mend. Plain text, 100 columns.
std::string findings_file(const Job& job, const std::vector<Finding>& findings);

/// "Estate A · revision C · 2026-03-14 · RIGHT SIDE", without what is not given.
std::string job_heading(const Job& job);

}  // namespace sillwright::core
