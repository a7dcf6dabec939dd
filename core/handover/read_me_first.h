#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/handover/contents.h"
#include "core/job.h"

namespace sillwright::core {

/// The page that whoever opens the folder reads first: which side, revision, warning,
/// what is in here, units and frame, what falls short, what was assumed or not measured.
std::string read_me_first(const Job& job, const std::vector<Finding>& findings, const HandoverContents& contents,
                          const JobFileMark& job_file);

}  // namespace sillwright::core
