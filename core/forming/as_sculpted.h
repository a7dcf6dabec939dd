#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/ladder.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A place of the prototype beside the drawn mould face, both at the finished part's size.
struct SculptedPoint {
    Eigen::Vector2d at_mm, drawn_mm;  ///< (out, up)
    geometry::Length proud;           ///< Of the drawn face, outward: cut there; negative: add.
};

struct SculptedStation {
    std::string station;
    geometry::Length along;
    std::vector<SculptedPoint> points;
};

struct AsSculpted {
    std::vector<SculptedStation> stations;
    geometry::Length sd;
    std::vector<std::string> missing;
};

/// The prototype as it was measured, brought to the part's size by the chain, against the drawn skirt.
AsSculpted as_sculpted(const Job& job, const Piece& piece, const geometry::Loft& line,
                       const std::vector<ChainStep>& chain);

/// The job with its skirt drawn anew through the measured places: what all checks are run on if it says so.
/// Errors: does_not_fit where no section can be put through them, led by the station.
geometry::Result<Job> sculpted_job(const Job& job);

/// `forming/<piece>/sculpted`.
std::vector<Finding> sculpted_findings(const Job& job, const Piece& piece, const AsSculpted& sculpted, Mends mends);

}  // namespace sillwright::core
