#include "app/link/bumps_of_job.h"

#include <algorithm>
#include <limits>
#include <utility>

#include "core/fairness.h"

namespace sillwright::app {

using geometry::in_mm;

namespace {

BumpsLine line_of(const core::FairLine& line, const std::string& of, bool ours) {
    BumpsLine drawn{of, line.name, in_mm(line.from), in_mm(line.to), {}, !line.bumps.empty(), ours};
    for (const core::Bump& bump : line.bumps) {
        drawn.bumps.push_back(
            {bump.node_id, bump.station, in_mm(bump.along), bump.proud ? bump.size_mm() : -bump.size_mm()});
    }
    return drawn;
}

}  // namespace

BumpsPicture bumps_of_job(const core::Job& job) {
    BumpsPicture picture;
    picture.limit_mm = in_mm(core::k_fair_limit);
    std::vector<core::DrawnId> ids;
    for (std::size_t i = 0; i < job.skirt.pieces.size(); ++i) {
        ids.push_back({core::DrawnId::Kind::piece, i, 0});
    }
    ids.emplace_back();
    double front = std::numeric_limits<double>::infinity();
    double rear = -front;
    for (const core::DrawnId& id : ids) {
        for (const core::FairLine& line : core::fair_lines(job, id)) {
            picture.lines.push_back(line_of(line, core::name_of(job, id), id.kind == core::DrawnId::Kind::piece));
            front = std::min(front, in_mm(line.from));
            rear = std::max(rear, in_mm(line.to));
        }
    }
    if (rear > front) {
        picture.front_mm = front;
        picture.rear_mm = rear;
    }
    return picture;
}

}  // namespace sillwright::app
