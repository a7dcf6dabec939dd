#include "core/mounts/mount_piece.h"

#include <algorithm>
#include <limits>

#include "core/skirt/flange_face.h"

namespace sillwright::core {

using geometry::in_mm;

namespace {

double off_stretch(double at, double from, double to) {
    return std::max({0.0, from - at, at - to});
}

std::optional<MountPiece> candidate(const CarModel& car, std::size_t piece, double along_mm) {
    const PieceModel& model = car.pieces[piece];
    if (model.line && FlangeFace::drawn_on(*model.line)) {
        return MountPiece{piece, true, off_stretch(along_mm, in_mm(model.line->front()), in_mm(model.line->rear()))};
    }
    if (model.line || !model.body || model.body->mesh.points.empty()) {
        return std::nullopt;
    }
    double from = std::numeric_limits<double>::infinity();
    double to = -from;
    for (const Eigen::Vector3d& point : model.body->mesh.points) {
        from = std::min(from, point.x());
        to = std::max(to, point.x());
    }
    return MountPiece{piece, false, off_stretch(along_mm, from, to)};
}

}  // namespace

std::optional<MountPiece> mount_piece(const Job& job, const CarModel& car, const Mount& mount) {
    std::optional<MountPiece> best;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (job.skirt.pieces[i].carried_by != "body") {
            continue;
        }
        const auto one = candidate(car, i, in_mm(mount.at.along.value));
        if (one && (!best || one->off_mm < best->off_mm)) {
            best = one;
        }
    }
    return best;
}

std::optional<LandedMount> landed_mount(const Job& job, const CarModel& car, const Mount& mount) {
    const auto on = mount_piece(job, car, mount);
    if (!on || !on->drawn) {
        return std::nullopt;
    }
    const auto face =
        FlangeFace::of(job.skirt.pieces[on->piece], *car.pieces[on->piece].line, car.pieces[on->piece].formed.get());
    auto landed = face ? landing(mount, *face) : std::nullopt;
    if (!landed) {
        return std::nullopt;
    }
    take_covariance(car, mount, *landed);
    return LandedMount{on->piece, *landed};
}

void take_covariance(const CarModel& car, const Mount& mount, Landing& landing) {
    if (const auto known = car.mount_covariances_mm2.find(mount.name); known != car.mount_covariances_mm2.end()) {
        landing.covariance_mm2 = known->second;
    }
}

}  // namespace sillwright::core
