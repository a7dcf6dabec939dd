#include "core/edit/drawn_change.h"

#include <algorithm>
#include <map>
#include <set>

#include "core/edit/drawn_id.h"
#include "core/number_text.h"

namespace sillwright::core {

namespace {

/// Names that a section puts right before a name.
std::map<std::string, std::set<std::string>> names_before(const Drawn& drawn) {
    std::map<std::string, std::set<std::string>> before;
    for (const Section& section : drawn.sections) {
        for (std::size_t i = 1; i < section.nodes.size(); ++i) {
            before[section.nodes[i].name].insert(section.nodes[i - 1].name);
        }
    }
    return before;
}

}  // namespace

std::vector<std::string> names_in_order(const Drawn& drawn) {
    std::vector<std::string> waiting;
    std::set<std::string> seen;
    for (const Section& section : drawn.sections) {
        for (const Node& node : section.nodes) {
            if (seen.insert(node.name).second) {
                waiting.push_back(node.name);
            }
        }
    }
    const auto before = names_before(drawn);
    std::vector<std::string> ordered;
    std::set<std::string> placed;
    while (!waiting.empty()) {
        auto next = std::find_if(waiting.begin(), waiting.end(), [&](const std::string& name) {
            const auto found = before.find(name);
            return found == before.end() ||
                   std::all_of(found->second.begin(), found->second.end(),
                               [&](const std::string& other) { return placed.contains(other); });
        });
        if (next == waiting.end()) {
            next = waiting.begin();  // No order is kept: any will do.
        }
        placed.insert(*next);
        ordered.push_back(*next);
        waiting.erase(next);
    }
    return ordered;
}

std::optional<std::size_t> node_of(const Section& section, const std::string& name) {
    const auto found =
        std::find_if(section.nodes.begin(), section.nodes.end(), [&](const Node& node) { return node.name == name; });
    if (found == section.nodes.end()) {
        return std::nullopt;
    }
    return static_cast<std::size_t>(found - section.nodes.begin());
}

std::optional<std::size_t> station_index(const Job& job, const std::string& name) {
    const auto found = std::find_if(job.stations.begin(), job.stations.end(),
                                    [&](const Station& station) { return station.name == name; });
    if (found == job.stations.end()) {
        return std::nullopt;
    }
    return static_cast<std::size_t>(found - job.stations.begin());
}

std::optional<std::size_t> section_at_station(const Drawn& drawn, const std::string& station) {
    const auto found = std::find_if(drawn.sections.begin(), drawn.sections.end(),
                                    [&](const Section& section) { return section.station == station; });
    if (found == drawn.sections.end()) {
        return std::nullopt;
    }
    return static_cast<std::size_t>(found - drawn.sections.begin());
}

Section& section_made_at(const Job& job, Drawn& drawn, const std::string& station) {
    if (const auto there = section_at_station(drawn, station)) {
        return drawn.sections[*there];
    }
    const auto at = station_index(job, station);
    const auto behind = std::find_if(drawn.sections.begin(), drawn.sections.end(),
                                     [&](const Section& section) { return station_index(job, section.station) > at; });
    return *drawn.sections.insert(behind, Section{station, {}, {}});
}

bool in_use(const Job& job, const Drawn& drawn, const RunOut& run_out) {
    for (std::size_t i = 0; i + 1 < drawn.sections.size(); ++i) {
        const auto front = station_index(job, drawn.sections[i].station);
        const auto rear = station_index(job, drawn.sections[i + 1].station);
        if (front && rear && job.stations[*front].along.value < run_out.along.value &&
            run_out.along.value < job.stations[*rear].along.value) {
            return node_of(drawn.sections[i], run_out.name).has_value() !=
                   node_of(drawn.sections[i + 1], run_out.name).has_value();
        }
    }
    return false;
}

void drop_idle_run_outs(const Job& before, const Drawn& drawn_before, const Job& after, Drawn& drawn_after) {
    std::erase_if(drawn_after.run_outs, [&](const RunOut& run_out) {
        const bool known =
            std::any_of(drawn_after.sections.begin(), drawn_after.sections.end(),
                        [&](const Section& section) { return node_of(section, run_out.name).has_value(); });
        return !known || (in_use(before, drawn_before, run_out) && !in_use(after, drawn_after, run_out));
    });
}

std::optional<std::string> passed_run_out(const Job& before, const Job& after) {
    for (const DrawnId id : all_drawn(before)) {
        for (const RunOut& run_out : drawn(before, id).run_outs) {
            if (in_use(before, drawn(before, id), run_out) && !in_use(after, drawn(after, id), run_out)) {
                return "The station would pass the place where " + run_out.name + " of " + name_of(before, id) +
                       " runs out, " + mm_text(run_out.along.value) + ". Keep it on its side of that place.";
            }
        }
    }
    return std::nullopt;
}

bool numbered_in_order(const std::vector<Station>& stations) {
    for (std::size_t i = 0; i < stations.size(); ++i) {
        if (stations[i].name != std::to_string(i + 1)) {
            return false;
        }
    }
    return true;
}

void number_stations(Job& job) {
    std::vector<std::string> before;
    for (const Station& station : job.stations) {
        before.push_back(station.name);
    }
    for (std::size_t i = 0; i < job.stations.size(); ++i) {
        job.stations[i].name = std::to_string(i + 1);
    }
    follow_station_names(job, before);
}

void follow_station_names(Job& job, const std::vector<std::string>& before) {
    std::map<std::string, std::string> renamed;
    for (std::size_t i = 0; i < before.size() && i < job.stations.size(); ++i) {
        if (before[i] != job.stations[i].name) {
            renamed.emplace(before[i], job.stations[i].name);
        }
    }
    if (renamed.empty()) {
        return;
    }
    for (const DrawnId id : all_drawn(job)) {
        for (Section& section : drawn(job, id).sections) {
            if (const auto found = renamed.find(section.station); found != renamed.end()) {
                section.station = found->second;
            }
        }
    }
    for (survey::Photo& photo : job.photos) {
        if (const auto found = renamed.find(photo.station); found != renamed.end()) {
            photo.station = found->second;
        }
    }
    for (GaugeLine& line : job.forming.sculpted.lines) {
        if (const auto found = renamed.find(line.station); found != renamed.end()) {
            line.station = found->second;
        }
    }
}

}  // namespace sillwright::core
