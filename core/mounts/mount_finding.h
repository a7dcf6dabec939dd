#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// A finding on one mount, `mounts/<mount>/<name>`, of which nothing is computed yet: its place and its words.
Finding mount_finding(const Job& job, const Mount& mount, const std::string& name, const std::string& title);

/// Found must be at least the required (or at most), in the finding's unit: puts the numbers and the state.
void put_numbers(Finding& finding, double found, double required, bool at_least, double close_band);

/// Null if there is none of that name.
const Mount* find_mount(const Job& job, const std::string& name);

/// Where the job file has a mount: "/mounts/3". Precondition: it is there.
std::string mount_pointer(const Job& job, const std::string& name);

/// "H1, H2 and H3"
std::string joined_words(const std::vector<std::string>& words);

}  // namespace sillwright::core
