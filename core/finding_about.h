#pragma once

#include <string>
#include <vector>

#include "core/finding.h"

/// What a finding is about, and what a change of the job does to findings.
namespace sillwright::core {

/// Whether it is about the mount or the door of that name.
bool is_about_mount(const Finding& finding, const std::string& mount);
bool is_about_door(const Finding& finding, const std::string& door);
/// Whether its mend moves the node.
bool is_about_node(const Finding& finding, const std::string& node_id);

/// Those of `after` that fall short and did not before: found by their ids, so one that was not
/// there before counts too.
std::vector<Finding> newly_falling_short(const std::vector<Finding>& before, const std::vector<Finding>& after);

}  // namespace sillwright::core
