#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/draw.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// By how much the part must be pulled back so that it goes in.
struct SetBack {
    geometry::Length front, rear;    ///< From its ends.
    geometry::Length shelf, flange;  ///< From its two long edges, across the draw direction.
};

/// The part on the machine, seen along the draw direction.
///
/// Frame: millimetres on the platen; its first axis is the machine's length, the second its width, origin in the
///   window's middle.
struct Platen {
    std::string machine;
    Eigen::Vector2d window_mm = Eigen::Vector2d::Zero(), free_mm = Eigen::Vector2d::Zero();  ///< Opening; less clamps.
    geometry::Angle tilt, yaw;
    std::vector<Eigen::Vector2d> part_mm;   ///< Outline of the finished part.
    std::vector<Eigen::Vector2d> mould_mm;  ///< With the trim allowance.
    std::vector<Eigen::Vector2d> need_mm;   ///< With the clamp distance: what must lie inside `free_mm`.
    geometry::Length excess;  ///< By which the need stands out of the free window, at the best yaw; negative: to spare.
    geometry::Length height;  ///< Of the mould, along the draw direction.
    std::optional<SetBack> set_back;               ///< If it does not go in.
    std::vector<geometry::Length> split_stations;  ///< Proposed, if set-back does not do.
    std::vector<std::string> missing;
};

Platen platen(const Job& job, const Piece& piece, const geometry::Loft& line, const DrawPlan& draw);

/// `forming/<piece>/window`, `forming/<piece>/depth`, `forming/<piece>/oven`.
std::vector<Finding> platen_findings(const Job& job, const Piece& piece, const geometry::Loft& line,
                                     const DrawPlan& draw, const Platen& platen, Mends mends);

}  // namespace sillwright::core
