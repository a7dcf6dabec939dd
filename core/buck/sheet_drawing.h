#pragma once

#include <string>
#include <vector>

#include "core/buck/buck_plan.h"
#include "core/buck/cut_part.h"
#include "core/buck/nesting.h"
#include "core/job.h"
#include "geometry/drawing.h"
#include "geometry/dxf_file.h"
#include "geometry/result.h"

namespace sillwright::core {

/// A sheet for the router.
///
/// Layers, in the order of the machine's work: ENGRAVE words as single strokes and lines; DRILL holes as circles;
///   CUT_INSIDE; CUT_OUTSIDE outlines; TAB a box across the cut where it is not cut through; SHEET_EDGE the board's
///   edge and its defects; NOTE what the machine must leave alone: below the sheet the job, the unit, the bit, the
///   order; on each part its label as TEXT, where it is engraved, so that a program can tell which part it is. Where
///   buck.line is the tool path, CUT_INSIDE and CUT_OUTSIDE are called PATH_INSIDE and PATH_OUTSIDE and have the way of
///   the bit's middle. Without a bit of a known diameter there is no such way: then the finished edges are drawn, and a
///   note says so.
/// Units and frame: millimetres, as NestedSheet.
struct SheetDrawing {
    std::string stem;  ///< "sheet_1_ply_12", unlike any other's.
    geometry::Drawing drawing;
    std::vector<std::string> notes;
};

/// One for each sheet, in their order.
/// Errors: invalid_argument for a sheet whose board the job has not, or not its size; as geometry::shape_of and
///   geometry::parallel, led by the part's label; does_not_fit where the bit has no way round a part or inside a
///   cut-out.
geometry::Result<std::vector<SheetDrawing>> sheet_drawings(const Job& job, const std::vector<CutPart>& parts,
                                                           const Nesting& nesting);

/// How the job wants its DXF files.
geometry::DxfOptions dxf_options(const Buck& buck);

/// RFC 4180: a line for each part: label, kind, piece, board, sheet of that board (none: left out), thickness, size and
/// area of the finished part, area as it is cut (inside corners relieved, cut-outs taken off), how much its edge is
/// bevelled strip by strip, holes, face that lies up.
std::string cut_list_csv(const Job& job, const BuckPlan& plan, const std::vector<CutPart>& parts,
                         const Nesting& nesting);

}  // namespace sillwright::core
