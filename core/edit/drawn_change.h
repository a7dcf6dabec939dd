#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "core/job.h"

/// What several edits do with the sections of a drawn body.
namespace sillwright::core {

/// All node names of a body in the one order that its sections keep; names that no
/// section orders stand as they are first seen.
/// Precondition: the sections agree on an order.
std::vector<std::string> names_in_order(const Drawn& drawn);

/// The number of the node of that name in a section, if it is there.
std::optional<std::size_t> node_of(const Section& section, const std::string& name);

/// The number of the station of that name in the job, if it is there.
std::optional<std::size_t> station_index(const Job& job, const std::string& name);

/// The number of a body's section at a station, if it is there.
std::optional<std::size_t> section_at_station(const Drawn& drawn, const std::string& station);

/// The section at a station, which is made, empty and in its place, if it is not there.
/// Precondition: the job has the station.
Section& section_made_at(const Job& job, Drawn& drawn, const std::string& station);

/// Run-outs that lie between a section that has their node and a neighbour that has not.
bool in_use(const Job& job, const Drawn& drawn, const RunOut& run_out);

/// Run-outs taken out that were in use before a change and are no longer: the feature goes on now, or is gone.
void drop_idle_run_outs(const Job& before, const Drawn& drawn_before, const Job& after, Drawn& drawn_after);

/// The station place that a change may not make: what is wrong where a run-out that was in use would no
/// longer lie between its stations; none if all is well.
std::optional<std::string> passed_run_out(const Job& before, const Job& after);

/// Stations that are numbered "1", "2", ... in order.
bool numbered_in_order(const std::vector<Station>& stations);

/// Numbers stations anew from front to rear; sections that name them follow.
void number_stations(Job& job);

/// Sections, photos and gauge lines that name a station follow its new name: all at once, so that names can change
/// about.
/// `before`: the names of the job's first stations before the change.
void follow_station_names(Job& job, const std::vector<std::string>& before);

}  // namespace sillwright::core
