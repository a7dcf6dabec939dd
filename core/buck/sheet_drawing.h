#pragma once

#include <string>
#include <vector>

#include "core/buck/cut_part.h"
#include "core/buck/nesting.h"
#include "core/job.h"
#include "geometry/drawing.h"
#include "geometry/result.h"

namespace sillwright::core {

/// A sheet for the router.
///
/// Layers, in the order of the machine's work: ENGRAVE words as single strokes and lines; DRILL holes as circles;
///   CUT_INSIDE; CUT_OUTSIDE outlines; TAB where outlines are not cut through; SHEET_EDGE the board's edge and its
///   defects; NOTE what the machine must leave alone: the job, the unit, the bit, the order.
///   Where buck.line is the tool path, CUT_INSIDE and CUT_OUTSIDE are called PATH_INSIDE and PATH_OUTSIDE and have the
///   way of the bit's middle.
/// Units and frame: millimetres, as NestedSheet.
struct SheetDrawing {
    std::string stem;  ///< "sheet_1_ply_12"
    geometry::Drawing drawing;
    std::vector<std::string> notes;
};
geometry::Result<std::vector<SheetDrawing>> sheet_drawings(const Job& job, const std::vector<CutPart>& parts,
                                                           const Nesting& nesting);

/// RFC 4180: a line for each part: label, kind, board, sheet, thickness, size, bevels, holes.
std::string cut_list_csv(const Job& job, const BuckPlan& plan, const std::vector<CutPart>& parts,
                         const Nesting& nesting);

}  // namespace sillwright::core
