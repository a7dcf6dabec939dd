#include "core/mounts/reach.h"

#include <utility>

#include "core/mounts/mount_findings.h"
#include "core/mounts/mount_lists.h"
#include "core/mounts/mount_piece.h"
#include "core/skirt/flange_findings.h"

namespace sillwright::core {

namespace {

/// What must be measured before there is a piece with a flange.
std::vector<std::string> lacking(const CarModel& car) {
    std::vector<std::string> missing;
    for (const PieceModel& piece : car.pieces) {
        missing.insert(missing.end(), piece.missing.begin(), piece.missing.end());
    }
    if (missing.empty()) {
        missing.emplace_back("a skirt piece, carried by the body, with a flange from flange root to flange end");
    }
    return missing;
}

void append(std::vector<Finding>& all, std::vector<Finding> more) {
    std::move(more.begin(), more.end(), std::back_inserter(all));
}

}  // namespace

std::vector<Finding> mount_findings(const Job& job, const CarModel& car, const Mount& mount, Mends mends,
                                    const std::stop_token& stop, const MountPlan* plan) {
    const auto piece = mount_piece(job, car, mount);
    if (!piece) {
        return unmeasured_mount_findings(job, mount, lacking(car));
    }
    const PieceModel& model = car.pieces[piece->piece];
    if (!piece->drawn) {
        return mesh_mount_findings(job, mount, piece->piece, model.body->mesh);
    }
    const auto face = FlangeFace::of(job.skirt.pieces[piece->piece], *model.line, model.formed.get());
    if (!face) {
        return unmeasured_mount_findings(job, mount, {"the sheet thickness of " + model.name});
    }
    const HolePlan* const planned = plan != nullptr ? plan->find(mount.name) : nullptr;
    return drawn_mount_findings(job, car, mount, piece->piece, *face, mends, stop,
                                planned != nullptr ? &planned->landing : nullptr);
}

std::vector<Finding> reach_findings(const Job& job, const CarModel& car, Mends mends, const MountPlan* plan) {
    std::vector<Finding> findings;
    for (const Mount& mount : job.mounts) {
        if (mount.use == MountUse::flange) {
            append(findings, mount_findings(job, car, mount, mends, {}, plan));
        }
    }
    append(findings, mount_list_findings(job));
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        const auto& line = car.pieces[i].line;
        if (line && FlangeFace::drawn_on(*line)) {
            findings.push_back(flange_finding(job, job.skirt.pieces[i], *line, &car.pieces[i]));
        }
    }
    return findings;
}

}  // namespace sillwright::core
