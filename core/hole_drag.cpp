#include "core/hole_drag.h"

#include <algorithm>
#include <iterator>
#include <set>
#include <utility>

#include "core/finding_words.h"
#include "core/mounts/fitting_findings.h"
#include "core/mounts/reach.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;

namespace {

void append(std::vector<Finding>& all, std::vector<Finding> more) {
    std::move(more.begin(), more.end(), std::back_inserter(all));
}

/// The findings that a hole's place has a part in.
std::vector<Finding> of_hole(const Evaluation& now, const Mount& mount) {
    std::vector<Finding> all = mount_findings(now.job, now.car, mount, Mends::leave, {}, &now.plan);
    append(all, fitting_findings(now.job, now.car, now.plan));
    return all;
}

}  // namespace

geometry::Result<HoleDrag> HoleDrag::begin(const std::shared_ptr<const Evaluation>& from, const std::string& mount) {
    const auto& mounts = from->job.mounts;
    const auto found = std::find_if(mounts.begin(), mounts.end(), [&](const Mount& one) { return one.name == mount; });
    if (found == mounts.end() || !found->part_hole || found->use != MountUse::flange) {
        return Error{ErrorCode::invalid_argument, "The part has no hole for \"" + mount + "\" that could be moved."};
    }
    HoleDrag drag;
    drag.now_ = std::make_unique<Evaluation>(*from);
    drag.mount_ = static_cast<std::size_t>(found - mounts.begin());
    std::set<std::string> follow;
    for (const Finding& finding : of_hole(*from, *found)) {
        follow.insert(finding.id);
    }
    std::copy_if(from->findings.begin(), from->findings.end(), std::back_inserter(drag.others_),
                 [&](const Finding& finding) { return !follow.contains(finding.id); });
    return drag;
}

void HoleDrag::to(geometry::Length shift) {
    Mount& mount = now_->job.mounts[mount_];
    mount.part_shift = entry(shift);
    now_->plan = mount_plan(now_->job, now_->car);
    std::vector<Finding> all = others_;
    append(all, of_hole(*now_, mount));
    now_->findings = worst_first(std::move(all));
}

}  // namespace sillwright::core
