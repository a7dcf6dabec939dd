#pragma once

#include <string>
#include <vector>

#include "core/edit/drawn_id.h"
#include "core/edit/edit.h"
#include "geometry/units.h"

/// Changes of stations and of whole sections. Errors of all: as checked_edit, and
/// invalid_argument where there is no such station or section.
namespace sillwright::core {

/// A section's nodes put at other stations, in the place of what was there; their ids are new
/// where no node of that name was there. A run-out goes where its feature now goes on.
geometry::Result<Edit> copy_section(const Job& job, DrawnId id, const std::string& from,
                                    const std::vector<std::string>& to);

/// A station at a place. Every body whose sections reach beyond it on both sides gets
/// the section that its guide lines give there (within 1e-9 mm), so that nothing changes shape
/// at that place; beside it guide lines may change a little, since they now go through one more.
/// Its name is free: the next number if stations are numbered, and those behind are
/// numbered anew. Errors: also does_not_fit where a station or a run-out is within 1 mm already.
geometry::Result<Edit> add_station(const Job& job, geometry::Length along);
/// A station and all sections at it; if stations are numbered, those behind are numbered anew.
geometry::Result<Edit> delete_station(const Job& job, const std::string& station);
/// Errors: also as typed_entry, and where it would pass a neighbour or a run-out.
geometry::Result<Edit> move_station(const Job& job, const std::string& station, const std::string& typed_along);
/// A section of one body; others at the station stay.
geometry::Result<Edit> delete_section(const Job& job, DrawnId id, const std::string& station);

}  // namespace sillwright::core
