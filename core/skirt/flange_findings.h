#pragma once

#include "core/finding.h"
#include "core/job.h"
#include "geometry/loft.h"

namespace sillwright::core {

struct PieceModel;

/// Whether the flange can be made: `sections/<piece>/flange`.
///
/// Formed with the part: draft of the flange on a male mould that is drawn square to
///   the part's face (the straight from bead to knee, or from knee to lower edge where
///   there is no bead): the angle between face and flange, less 90 degrees, at the place
///   where it is least; a true square corner has none and does not leave the mould.
///   Once the mould is decided, with the draw direction that is used and the draft that is
///   needed there: the same numbers as `forming/<piece>/draft` has of the flange.
/// Bent after: bend allowance, setback, flat length and the angle to bend to, at the
///   place of the greatest bend, with the sheet as thick as it is formed there where the
///   model has that; holds, and carries its numbers as inputs.
/// Accuracy: looked at in every section drawn, at run-outs, and at `k_between` places
///   between each two.
/// Source: draft of 3 degrees at least on male moulds: thermopro.com, Design guidelines;
///   bends: see flange_bend.h.
/// Precondition: FlangeFace::drawn_on(line).
Finding flange_finding(const Job& job, const Piece& piece, const geometry::Loft& line,
                       const PieceModel* model = nullptr);

constexpr geometry::Angle k_least_draft = geometry::degrees(3.0);
constexpr int k_between = 7;

}  // namespace sillwright::core
