#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Draft of one strip of the section: from a node to the next, or round a node.
struct StripDraft {
    std::string from, to;   ///< Names of nodes; the same for a rounding.
    geometry::Angle least;  ///< Between surface and draw direction; negative is undercut.
    geometry::Length along;
    Eigen::Vector2d at_mm;  ///< (out, up), where it is least.
};

/// A stretch of surface that the mould cannot leave.
struct Undercut {
    geometry::Length from, to;  ///< Along.
    std::string strip;          ///< "shelf inner to shelf edge"
    geometry::Length depth;     ///< That the part must spring over, square to the draw direction.
    geometry::Length along;     ///< Where it is deepest.
    Eigen::Vector2d at_mm;
};

/// How a drawn piece leaves its mould.
///
/// Draw direction: in the plane of the sections, straight outward, tilted up by `tilt`.
struct DrawPlan {
    geometry::Angle tilt;                     ///< That is used: the decided one, else the best.
    geometry::Angle best;                     ///< Of those that can be set up.
    geometry::Angle best_draft;               ///< The least draft there.
    std::optional<geometry::Angle> from, to;  ///< Tilts of which the least draft is enough; none if no tilt is.
    geometry::Angle needed;
    std::vector<StripDraft> strips;  ///< At `tilt`, by the order of the names.
    std::vector<Undercut> undercuts;
    std::vector<std::string> missing;
};

/// Draft needed for the mould and its texture. No value while the mould is not decided.
std::optional<geometry::Angle> draft_needed(const Forming& forming);

DrawPlan draw_plan(const Job& job, const Piece& piece, const geometry::Loft& line);

/// The tilt alone, for those who need no more: as draw_plan, cheaper.
geometry::Angle draw_tilt(const Job& job, const Piece& piece, const geometry::Loft& line);

/// `forming/<piece>/draft`, `forming/<piece>/undercut`.
std::vector<Finding> draw_findings(const Job& job, const Piece& piece, const geometry::Loft& line, const DrawPlan& plan,
                                   Mends mends);

}  // namespace sillwright::core
