#pragma once

#include <string>
#include <vector>

#include "app/drawings/section_picture.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::app {

/// The axis, the seat and the note of a mount, if it is no further from the section than 25 mm:
/// "H4, 20 mm beyond", "hole Ø 9", "stack 4.2 in grip 3.0–4.5", as far as it is known.
/// `findings` gives the stack; without them it is left out. Lengths are in the job's unit.
void add_mount(SectionPicture& picture, const core::Job& job, const core::Mount& mount, geometry::Length along,
               const std::vector<core::Finding>* findings);

}  // namespace sillwright::app
