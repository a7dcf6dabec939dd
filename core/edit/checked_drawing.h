#pragma once

#include <string>
#include <vector>

#include "core/edit/drawn_id.h"
#include "core/edit/edit.h"

namespace sillwright::core {

/// checked_edit for a change of sections: a section that had a line must have one after the change, so that
/// a line that crosses itself and a rounding that does not fit are said at once. A section that had none
/// may be mended step by step. Sections of `changed` that are as they were are not looked at.
/// Errors: as checked_edit; does_not_fit for a section that has lost its line. Each is led by the
///   body and the station.
geometry::Result<Edit> checked_drawing(const Job& before, Job after, const std::vector<DrawnId>& changed,
                                       std::string words);

}  // namespace sillwright::core
