#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "core/finding.h"
#include "core/forming/draw.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Moves of nodes, square to the draw direction, with which every straight of every section of a piece has a draft.
///
/// Shape: flange root and flange end stay on the mounts. Strips that face the draw direction keep their form, but for
///   the longest of them, the face: its ends go with what they belong to (shelf edge with bead, lower edge with knee).
/// Method: a wall has the draft where its nodes are apart by so much; the nodes of a section are a chain of such
///   conditions. The moves with the least sum of squares are an isotonic regression (pooled neighbours), held above the
///   root's.
/// Source: R. E. Barlow et al., "Statistical Inference under Order Restrictions" (1972), chapter 1.
/// What the flange itself lacks, it keeps lacking.
std::vector<NodeMove> leaning_moves(const Piece& piece, geometry::Angle tilt, geometry::Angle draft);

/// A tilt and moves with it: the tilt of those that can be set up and leave the flange `draft`, at which the greatest
/// move is least; the decided one stays where it does. No value where no tilt leaves the flange that draft.
struct LeanAt {
    geometry::Angle tilt;
    bool changes_tilt = false;
};
std::optional<LeanAt> lean_tilt(const Job& job, const Piece& piece, const geometry::Loft& line, geometry::Angle draft);

/// What a lean is looked for.
struct LeanSearch {
    geometry::Angle feasible;  ///< Draft that the flange must have at the tilt chosen.
    geometry::Angle from;      ///< Draft of the walls from which the search goes up.
    double slack = 0.0;
    std::function<double(const DrawPlan&)> margin;  ///< Of a plan made anew; in the finding's unit.
};
/// The least lean with which the margin comes to zero. Each try makes sections, tilt and drafts anew.
/// Accuracy: 0 <= proven_margin <= slack. No value where no lean was found.
std::optional<Mend> lean_mend(const Job& job, const Piece& piece, const geometry::Loft& line, const LeanSearch& search);

/// The plan of the piece of the same name after a change; no value where its sections can no longer be drawn.
std::optional<DrawPlan> plan_after(const Job& after, const Piece& piece);

}  // namespace sillwright::core
