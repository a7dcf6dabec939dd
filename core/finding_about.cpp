#include "core/finding_about.h"

#include <algorithm>
#include <iterator>
#include <set>

namespace sillwright::core {

bool is_about_mount(const Finding& finding, const std::string& mount) {
    return !mount.empty() && finding.place.mount == mount;
}

bool is_about_door(const Finding& finding, const std::string& door) {
    return !door.empty() && finding.place.door == door;
}

bool is_about_node(const Finding& finding, const std::string& node_id) {
    return finding.mend && std::any_of(finding.mend->moves.begin(), finding.mend->moves.end(),
                                       [&](const NodeMove& move) { return move.node_id == node_id; });
}

std::vector<Finding> newly_falling_short(const std::vector<Finding>& before, const std::vector<Finding>& after) {
    std::set<std::string> short_before;
    for (const Finding& finding : before) {
        if (finding.state == State::falls_short) {
            short_before.insert(finding.id);
        }
    }
    std::vector<Finding> more;
    std::copy_if(after.begin(), after.end(), std::back_inserter(more), [&](const Finding& finding) {
        return finding.state == State::falls_short && !short_before.contains(finding.id);
    });
    return more;
}

}  // namespace sillwright::core
