#pragma once

#include <Eigen/Geometry>
#include <functional>
#include <string>
#include <vector>

#include "core/buck/cut_part.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::core {

/// A part on a sheet: turned by `turned`, then moved.
struct PlacedPart {
    std::size_t part = 0;  ///< Number in the list of cut parts.
    geometry::Angle turned;
    Eigen::Vector2d moved_mm = Eigen::Vector2d::Zero();

    [[nodiscard]] Eigen::Vector2d on_sheet_mm(const Eigen::Vector2d& on_part_mm) const;
};

/// One sheet with its parts. Frame: millimetres, its length to the right, its width up, from its lower left corner.
struct NestedSheet {
    std::string board;
    std::size_t number = 0;  ///< Of this board's sheets, from 1.
    std::vector<PlacedPart> parts;
    Eigen::Vector2d used_mm = Eigen::Vector2d::Zero();  ///< Upper right corner of the box from the lower left corner
                                                        ///< that holds all parts.
    double parts_area_mm2 = 0.0;
    Eigen::Vector2d left_mm = Eigen::Vector2d::Zero();  ///< Size of the largest off-cut beside that box, to keep.
};

struct Nesting {
    std::vector<NestedSheet> sheets;
    std::vector<std::size_t> left_out;  ///< Parts that no board takes, or for which there are too few.
    std::size_t least_sheets = 0;       ///< No nest can need fewer, by area: see nesting_bound.
    std::size_t tries = 0;              ///< That were computed; the best stands.
    double gap_mm = 0.0;
};

/// Lays all parts on the job's boards: those of which there is a number first (off-cuts), then the others.
///
/// Method: several settings of libnest2d and orders of parts, seeded; the same job gives the same nest. `better` is
///   called with the first nest and each better one; a stop leaves the best.
/// Better: fewer left out, then fewer sheets, then less area of the boxes used.
/// Shape: parts keep `margin` from edges and defects and the gap from one another, measured to their cut outlines;
///   a board with grain turns parts by half a turn only.
/// Errors: stopped before there was a first.
geometry::Result<Nesting> nesting(const Job& job, const std::vector<CutPart>& parts, const geometry::Watch& watch = {},
                                  const std::function<void(const Nesting&)>& better = {});

/// Parts that no board takes, with the cure; sheets used beside the bound; boards whose size or thickness is missing.
std::vector<Finding> nesting_findings(const Job& job, const std::vector<CutPart>& parts, const Nesting& nesting);
/// What can be said without a nest: parts that fit no board.
std::vector<Finding> board_findings(const Job& job, const std::vector<CutPart>& parts);

}  // namespace sillwright::core
