#pragma once

#include <optional>
#include <string>

#include "app/drawings/section_picture.h"
#include "core/edit/drawn_id.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/profile.h"
#include "geometry/units.h"

namespace sillwright::app {

/// The station that a section at `along` belongs to; none between stations.
const core::Station* station_at(const core::Job& job, geometry::Length along);
/// The section of a body that was drawn at a station; null if none was.
const core::Section* section_at(const core::Drawn& drawn, const std::string& station);

/// The pen that a body's nodes and lines have.
SectionRole role_of(core::DrawnId id);

/// The nodes that were drawn in the section of a body at a station, for the hand to take; their
/// places and numbers are the job's own.
void add_nodes(SectionPicture& picture, const core::Job& job, core::DrawnId id, const core::Section& section);

/// Ticks across a line where the names that are there stand on it: a rounding takes its corner
/// away. Named if `named`; each is the node of `section`, if there is one.
void add_ticks(SectionPicture& picture, const geometry::Loft& loft, const geometry::Profile& line,
               geometry::Length along, SectionRole role, bool named, const core::Section* section);

/// A section that has no shape yet: its nodes joined by straights.
void add_straights(SectionPicture& picture, const core::Job& job, core::DrawnId id, const core::Section& section);

}  // namespace sillwright::app
