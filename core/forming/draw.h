#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/draw_findings.h"
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
    std::string strip;          ///< "shelf inner to shelf edge", "flute A"
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
    std::optional<geometry::Angle> needed;    ///< None while it is not known: see draft_needed.
    std::vector<StripDraft> strips;           ///< At `tilt`, by the order of the names.
    std::vector<Undercut> undercuts;
    std::vector<std::string> missing;
};

/// Draft needed: the one asked for, else what is usual for the mould and its texture. No value while neither is
/// decided.
/// Source: 2 degrees at least in female moulds, 3 on male ones: thermopro.com, Design guidelines; 1 degree more for
///   0.025 mm depth of texture: from memory.
std::optional<geometry::Angle> draft_needed(const Forming& forming);

/// Draft of a place: the angle between the surface, its lean along the car too, and the draw direction.
/// Undercut: walking down either side from where a section is furthest in the draw direction, the outline may not
///   come back; depth is how far it has. It is the same for male and female moulds. The walls of
///   flutes and recesses are not looked at here: flute_lanes.h says what the mould holds of each.
/// Method: geometry/section_faces.h and geometry/draft.h. The best tilt, and the tilts that are enough, are exact for
///   the sections looked at (core/forming/mould_faces.h); undercuts are followed between them to k_end_mm.
/// Missing: what draft_needed lacks; sections that cannot be drawn.
DrawPlan draw_plan(const Job& job, const Piece& piece, const geometry::Loft& line);

/// The tilt alone, for those who need no more: as draw_plan, cheaper.
geometry::Angle draw_tilt(const Job& job, const Piece& piece, const geometry::Loft& line);

/// Draft round one section, for pictures.
struct DraftPoint {
    double mark = 0.0;      ///< As in FormedSheet: number of a node and part of the way to the next.
    Eigen::Vector2d at_mm;  ///< (out, up), on the mould's face.
    geometry::Angle draft;
};
/// In order, both ends of every strip and at least every k_point_turn_deg round a rounding; empty where there is no
/// section. At a run-out it is the surface in front of it.
std::vector<DraftPoint> draft_points(const Job& job, const Piece& piece, const geometry::Loft& line,
                                     geometry::Length along, geometry::Angle tilt);
/// Between two points linear, beyond them as at the nearest. Precondition: there are points.
geometry::Angle draft_at(const std::vector<DraftPoint>& points, double mark);

constexpr double k_point_turn_deg = 10.0;
constexpr double k_end_mm = 0.05;

}  // namespace sillwright::core
