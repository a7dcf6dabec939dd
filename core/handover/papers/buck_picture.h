#pragma once

#include <vector>

#include "core/buck/buck_plan.h"
#include "core/buck/cut_part.h"
#include "core/buck/nesting.h"
#include "geometry/drawing.h"
#include "geometry/result.h"

/// The buck as pictures for a paper: to be looked at, not to be cut from.
namespace sillwright::core {

/// Seen from the side above, from on top below: x to the right, height up in the one and side up in the other. Ribs and
/// spines by their boxes with their labels, the base, FRONT. Layers: CUT_OUTSIDE, NOTE.
geometry::Drawing assembly_picture(const PieceBuck& buck);

/// A sheet with its parts as they are cut, their labels, and the board's edge (none where its size is not known).
/// Layers: CUT_OUTSIDE, SHEET_EDGE, NOTE. Errors: as geometry::shape_of, led by the part.
geometry::Result<geometry::Drawing> sheet_picture(const std::vector<CutPart>& parts, const NestedSheet& sheet,
                                                  const Board* board);

/// Lower left and upper right of a part or rib as it is drawn: its outline's, arcs taken as they run.
/// Empty for an outline without segments.
Eigen::AlignedBox2d box_of(const geometry::Profile& outline);

}  // namespace sillwright::core
