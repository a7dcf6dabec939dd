#include "core/edit/section_edit.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include "core/drawn_loft.h"
#include "core/edit/drawn_change.h"
#include "core/edit/new_names.h"
#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Length;
using geometry::millimetres;
using geometry::Result;

namespace {

/// Stations nearer together than this are one. Common practice, no source.
constexpr Length k_least_station_gap = millimetres(1.0);

Error bad(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

Error no_such_station(const std::string& station) {
    return bad("There is no station \"" + station + "\" in this job.");
}

Error no_such_section(const Job& job, DrawnId id, const std::string& station) {
    return bad("There is no section of " + name_of(job, id) + " at station " + station + ".");
}

Length apart(Length a, Length b) {
    return a < b ? b - a : a - b;
}

/// Drops from every body the run-outs that a change has left without a use.
void drop_idle_run_outs_of_all(const Job& before, Job& after) {
    for (const DrawnId id : all_drawn(after)) {
        drop_idle_run_outs(before, drawn(before, id), after, drawn(after, id));
    }
}

/// "station 4", "stations 4 to 6", "stations 4, 6 and 9".
std::string stations_in_words(const Job& job, std::vector<std::size_t> numbers) {
    std::sort(numbers.begin(), numbers.end());
    const auto name = [&](std::size_t i) { return job.stations[numbers[i]].name; };
    const std::size_t n = numbers.size();
    if (n == 1) {
        return "station " + name(0);
    }
    if (n > 2 && numbers.back() - numbers.front() == n - 1) {
        return "stations " + name(0) + " to " + name(n - 1);
    }
    std::string words = "stations " + name(0);
    for (std::size_t i = 1; i < n; ++i) {
        words += (i + 1 == n ? " and " : ", ") + name(i);
    }
    return words;
}

/// The nodes of `source` in the place of those of `target`; ids stay where names do.
void copy_nodes(const Section& source, Section& target, NodeIds& ids) {
    std::vector<Node> nodes = source.nodes;
    for (Node& node : nodes) {
        if (const auto there = node_of(target, node.name)) {
            node.id = target.nodes[*there].id;
            node.unknown = target.nodes[*there].unknown;
        } else {
            node.id = ids.next();
            node.unknown = {};
        }
    }
    target.nodes = std::move(nodes);
}

/// The section that a body's guide lines give at a place; none where they do not reach.
std::optional<Section> given_section(const Job& job, DrawnId id, const std::string& station, Length along,
                                     NodeIds& ids) {
    const Drawn& body = drawn(job, id);
    if (body.sections.size() < 2) {
        return std::nullopt;
    }
    const auto loft = loft_of(job, body, closed(job, id), name_of(job, id));
    if (!loft || !(loft.value().front() < along) || !(along < loft.value().rear())) {
        return std::nullopt;
    }
    Section section{station, {}, {}};
    const auto nodes = loft.value().nodes_at(along);
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        if (loft.value().present_at(i, along)) {
            Node node;
            node.id = ids.next();
            node.name = loft.value().names()[i];
            node.out = entry(millimetres(nodes[i].p_mm.x()));
            node.up = entry(millimetres(nodes[i].p_mm.y()));
            node.radius = entry(nodes[i].radius);
            section.nodes.push_back(std::move(node));
        }
    }
    return section;
}

std::string free_station_name(const Job& job) {
    std::set<std::string> taken;
    for (const Station& station : job.stations) {
        taken.insert(station.name);
    }
    return next_name(taken, "station ");
}

std::optional<Error> no_room_for_station(const Job& job, Length along) {
    for (const Station& station : job.stations) {
        if (apart(station.along.value, along) < k_least_station_gap) {
            return Error{ErrorCode::does_not_fit, "Station " + station.name + " stands at " +
                                                      mm_text(station.along.value) + " already. Put the new one " +
                                                      mm_text(k_least_station_gap, 0) + " or more away from it."};
        }
    }
    for (const DrawnId id : all_drawn(job)) {
        for (const RunOut& run_out : drawn(job, id).run_outs) {
            if (apart(run_out.along.value, along) < k_least_station_gap) {
                return Error{ErrorCode::does_not_fit, "At " + mm_text(run_out.along.value) + " " + run_out.name +
                                                          " runs out. Put the station " +
                                                          mm_text(k_least_station_gap, 0) + " or more away from it."};
            }
        }
    }
    return std::nullopt;
}

}  // namespace

Result<Edit> copy_section(const Job& job, DrawnId id, const std::string& from, const std::vector<std::string>& to) {
    if (!station_index(job, from)) {
        return no_such_station(from);
    }
    const auto source = section_at_station(drawn(job, id), from);
    if (!source) {
        return no_such_section(job, id, from);
    }
    std::vector<std::size_t> targets;
    for (const std::string& station : to) {
        const auto index = station_index(job, station);
        if (!index) {
            return no_such_station(station);
        }
        if (station != from && std::find(targets.begin(), targets.end(), *index) == targets.end()) {
            targets.push_back(*index);
        }
    }
    if (targets.empty()) {
        return bad("No other station is chosen. Choose one or more to copy the section to.");
    }
    const Section section = drawn(job, id).sections[*source];
    Job copied = job;
    NodeIds ids(job);
    for (const std::size_t target : targets) {
        copy_nodes(section, section_made_at(job, drawn(copied, id), job.stations[target].name), ids);
    }
    drop_idle_run_outs_of_all(job, copied);
    return checked_edit(std::move(copied), "copy section " + from + " to " + stations_in_words(job, targets));
}

Result<Edit> add_station(const Job& job, Length along) {
    if (auto error = no_room_for_station(job, along)) {
        return *error;
    }
    const bool numbered = numbered_in_order(job.stations);
    Job added = job;
    const auto behind = std::find_if(added.stations.begin(), added.stations.end(),
                                     [&](const Station& station) { return station.along.value > along; });
    const auto index = static_cast<std::size_t>(behind - added.stations.begin());
    const std::string name = free_station_name(job);
    added.stations.insert(behind, Station{name, entry(along), {}});
    NodeIds ids(job);
    for (const DrawnId id : all_drawn(job)) {
        if (auto section = given_section(job, id, name, along, ids)) {
            section_made_at(added, drawn(added, id), name) = std::move(*section);
        }
    }
    if (numbered) {
        number_stations(added);
    }
    const std::string words = "add station " + added.stations[index].name;
    return checked_edit(std::move(added), words);
}

Result<Edit> delete_station(const Job& job, const std::string& station) {
    const auto index = station_index(job, station);
    if (!index) {
        return no_such_station(station);
    }
    Job left = job;
    for (const DrawnId id : all_drawn(job)) {
        std::erase_if(drawn(left, id).sections, [&](const Section& section) { return section.station == station; });
    }
    std::erase_if(left.forming.sculpted.lines, [&](const GaugeLine& line) { return line.station == station; });
    left.stations.erase(left.stations.begin() + static_cast<std::ptrdiff_t>(*index));
    drop_idle_run_outs_of_all(job, left);
    if (numbered_in_order(job.stations)) {
        number_stations(left);
    }
    return checked_edit(std::move(left), "delete station " + station);
}

Result<Edit> move_station(const Job& job, const std::string& station, const std::string& typed_along) {
    const auto index = station_index(job, station);
    if (!index) {
        return no_such_station(station);
    }
    const auto read = typed_entry(typed_along, job.unit);
    if (!read) {
        return bad("\"" + typed_along + "\" is not a length for along. " + read.error().message);
    }
    Job moved = job;
    moved.stations[*index].along = read.value();
    if (auto passed = passed_run_out(job, moved)) {
        return bad(std::move(*passed));
    }
    return checked_edit(std::move(moved), "move station " + station);
}

Result<Edit> delete_section(const Job& job, DrawnId id, const std::string& station) {
    const auto index = section_at_station(drawn(job, id), station);
    if (!index) {
        return no_such_section(job, id, station);
    }
    Job left = job;
    std::vector<Section>& sections = drawn(left, id).sections;
    sections.erase(sections.begin() + static_cast<std::ptrdiff_t>(*index));
    drop_idle_run_outs_of_all(job, left);
    return checked_edit(std::move(left), "delete section of " + name_of(job, id) + " at station " + station);
}

}  // namespace sillwright::core
