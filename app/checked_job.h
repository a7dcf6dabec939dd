#pragma once

#include <Eigen/Core>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "app/drawings/clearance_picture.h"
#include "app/drawings/section_picture.h"
#include "app/drawings/solid_scene.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {
struct Evaluation;
}

namespace sillwright::app {

/// Clearance against opening, angles rising.
struct ClearanceCurve {
    std::string id;  ///< The finding's id that it belongs to.
    std::string door;
    std::string moving;  ///< The door's part, or the piece that it carries.
    std::string fixed;   ///< The piece, or the other door's part.
    std::vector<ClearanceAtAngle> points;
};

/// The edge of all that a door sweeps at one place, grown by the required gap.
struct DoorLimit {
    std::string door;
    std::string station;
    geometry::Length along;
    std::vector<std::vector<Eigen::Vector2d>> chains_mm;  ///< (out, up).
};

/// What takes time to compute and is not always wanted: computed at every call.
template <class T>
using OnDemand = std::function<geometry::Result<T>()>;

/// A job that was read and computed: all that the terminal prints and the
/// window shows. core_link.h makes it.
struct CheckedJob {
    core::Job job;
    std::filesystem::path file;
    std::string sha256;  ///< Of the job file as it was read, in hex.
    std::vector<core::Finding> findings;
    /// What the findings rest on; null where they come from elsewhere (in tests).
    std::shared_ptr<const core::Evaluation> evaluation;

    OnDemand<std::vector<ClearanceCurve>> curves = [] { return std::vector<ClearanceCurve>{}; };
    OnDemand<std::vector<DoorLimit>> door_limits = [] { return std::vector<DoorLimit>{}; };
    OnDemand<SolidScene> solids = [] { return SolidScene{}; };
    /// The section at a place along the car. Errors: does_not_fit as geometry::Loft.
    std::function<geometry::Result<SectionPicture>(geometry::Length along)> section_at;
};

/// What a handover folder was filled with.
struct HandedOver {
    std::filesystem::path folder;
    std::vector<std::filesystem::path> files;  ///< As written, relative to the folder.
    std::vector<std::string> notes;            ///< What its reader must be told, one sentence or more each.
    std::vector<core::Finding> findings{};     ///< Those of the nest too.
};

}  // namespace sillwright::app
