#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/drawings/section_picture.h"
#include "core/evaluate.h"
#include "geometry/units.h"

namespace sillwright::app {

/// The gap to a door that matters in a section: that of the worst swing finding whose place is here
/// and whose door is as far open as it says; else the least distance in the section between what
/// is drawn of doors and of the skirt, which no finding judges and which says so.
///
/// Accuracy: a finding's number is its own; the other is that of the drawn lines. No value
///   where there is neither, or more than 15 mm in the second case.
std::optional<SectionGap> gap_at(const core::Evaluation& evaluation, geometry::Length along,
                                 const std::map<std::string, geometry::Angle>& openings, const SectionPicture& picture);

}  // namespace sillwright::app
