#include "core/mounts/reach.h"

#include <algorithm>
#include <limits>
#include <utility>

#include "core/mounts/mount_findings.h"
#include "core/mounts/mount_lists.h"
#include "core/sill_frame.h"
#include "core/skirt/flange_findings.h"

namespace sillwright::core {

using geometry::in_mm;

namespace {

/// A piece that a mount may be fixed to, and how far along the car it is from it.
struct Candidate {
    std::size_t piece;
    bool drawn;
    double off_mm;  ///< Zero if the piece's stretch holds the mount.
};

double off_stretch(double at, double from, double to) {
    return std::max({0.0, from - at, at - to});
}

std::optional<Candidate> candidate(const CarModel& car, std::size_t piece, double along_mm) {
    const PieceModel& model = car.pieces[piece];
    if (model.line && FlangeFace::drawn_on(*model.line)) {
        return Candidate{piece, true, off_stretch(along_mm, in_mm(model.line->front()), in_mm(model.line->rear()))};
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
    return Candidate{piece, false, off_stretch(along_mm, from, to)};
}

/// The piece carried by the body that is nearest along the car, the first of equals.
std::optional<Candidate> piece_at(const Job& job, const CarModel& car, const Mount& mount) {
    std::optional<Candidate> best;
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
                                    const std::stop_token& stop) {
    const auto piece = piece_at(job, car, mount);
    if (!piece) {
        return unmeasured_mount_findings(job, mount, lacking(car));
    }
    const PieceModel& model = car.pieces[piece->piece];
    if (!piece->drawn) {
        return mesh_mount_findings(job, mount, piece->piece, model.body->mesh);
    }
    const auto face = FlangeFace::of(job.skirt.pieces[piece->piece], *model.line);
    if (!face) {
        return unmeasured_mount_findings(job, mount, {"the sheet thickness of " + model.name});
    }
    return drawn_mount_findings(job, car, mount, piece->piece, *face, mends, stop);
}

std::vector<Finding> reach_findings(const Job& job, const CarModel& car, Mends mends) {
    std::vector<Finding> findings;
    for (const Mount& mount : job.mounts) {
        if (mount.use == MountUse::flange) {
            append(findings, mount_findings(job, car, mount, mends));
        }
    }
    append(findings, mount_list_findings(job));
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        const auto& line = car.pieces[i].line;
        if (line && FlangeFace::drawn_on(*line)) {
            findings.push_back(flange_finding(job, job.skirt.pieces[i], *line));
        }
    }
    return findings;
}

}  // namespace sillwright::core
