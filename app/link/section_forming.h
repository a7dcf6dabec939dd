#pragma once

#include "app/drawings/section_picture.h"
#include "geometry/units.h"

namespace sillwright::core {
struct Evaluation;
}

namespace sillwright::app {

/// What of its forming a section shows beside the drawn line.
enum class SectionForming { none, thickness, draft };

/// Adds to the section at a place how thick the pieces come out, as bands along their outside in the tints of
/// thickness_tint.h, or the draft of each strip and rounding there, in words beside it.
///
/// Also the set-back of its long edges, if the part does not go into its machine, and the prototype where it was
/// measured, with what is to be cut or added most.
///
/// Shape: nothing where no piece is there or nothing is computed. The thickness is that of the strip between two
///   corners, laid on to the outside of the polygon of corners.
void add_forming(SectionPicture& picture, const core::Evaluation& evaluation, geometry::Length along,
                 SectionForming what);

}  // namespace sillwright::app
