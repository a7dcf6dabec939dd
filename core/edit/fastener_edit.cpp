#include "core/edit/fastener_edit.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "core/job_file.h"
#include "core/mounts/mount_finding.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;

geometry::Result<Edit> take_fastener(const Job& job, const std::string& mount, const FastenerRow& row,
                                     const std::optional<geometry::Length>& stack) {
    Job changed = job;
    const auto found =
        std::find_if(changed.mounts.begin(), changed.mounts.end(), [&](const Mount& one) { return one.name == mount; });
    if (found == changed.mounts.end()) {
        return Error{ErrorCode::invalid_argument, "There is no mount \"" + mount + "\" in this job."};
    }
    found->fastener = fastener_of(row, found->fastener, stack);
    return checked_edit(std::move(changed), "take " + row.name + " at " + mount);
}

FieldChange fastener_change(const Job& job, const std::string& mount, const Fastener& fastener) {
    Job alone;
    alone.unit = job.unit;
    alone.mounts.emplace_back();
    alone.mounts.front().name = mount;
    alone.mounts.front().fastener = fastener;
    const auto file = nlohmann::ordered_json::parse(job_text(alone));
    return {mount_pointer(job, mount) + "/fastener", file.at("mounts").at(0).at("fastener").dump()};
}

}  // namespace sillwright::core
