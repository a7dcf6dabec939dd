#include "core/drawn_lacking.h"

#include <algorithm>
#include <cstddef>
#include <map>
#include <set>

#include "core/drawn_loft.h"
#include "core/section_check.h"

namespace sillwright::core {

namespace {

/// So many names are told one by one; of more, the number.
constexpr std::size_t k_most_told = 3;

std::set<std::string> names_of(const Section& section) {
    std::set<std::string> names;
    for (const Node& node : section.nodes) {
        names.insert(node.name);
    }
    return names;
}

std::vector<std::string> unfinished_sections(const Drawn& drawn, bool closed, const std::string& name) {
    std::vector<std::string> lacking;
    for (const Section& section : drawn.sections) {
        if (section.nodes.size() < (closed ? 3U : 2U)) {
            lacking.push_back("more nodes of " + name + " at station " + section.station);
        } else if (closed && first_crossing(section, true)) {
            lacking.push_back("the rest of the outline of " + name + " at station " + section.station +
                              ": the line that closes it still crosses it");
        }
    }
    return lacking;
}

/// Goes through the sections of a body and the names that stand in them.
class Names {
public:
    Names(const Job& job, const Drawn& drawn) : job_{job}, drawn_{drawn} {
        for (std::size_t i = 0; i < drawn.sections.size(); ++i) {
            for (const std::string& name : names_of(drawn.sections[i])) {
                places_[name].push_back(i);
            }
        }
    }

    /// Names that a section has not, though they go on behind it or run out nowhere.
    [[nodiscard]] std::vector<std::string> lost_at(std::size_t section) const {
        std::vector<std::string> lost;
        for (const auto& [name, places] : places_) {
            const bool here = std::find(places.begin(), places.end(), section) != places.end();
            const bool between = places.front() < section && section < places.back();
            const bool before = section + 1 == places.front() && !runs_out(name, section);
            const bool behind = section == places.back() + 1 && !runs_out(name, section - 1);
            if (!here && (between || before || behind)) {
                lost.push_back(name);
            }
        }
        return lost;
    }

    /// How many names stand in a section and in the next.
    [[nodiscard]] std::size_t through(std::size_t section) const {
        return static_cast<std::size_t>(std::count_if(places_.begin(), places_.end(), [&](const auto& one) {
            return one.second.front() <= section && section + 1 <= one.second.back();
        }));
    }

private:
    /// Whether a name runs out between a section and the next.
    [[nodiscard]] bool runs_out(const std::string& name, std::size_t section) const {
        const auto front = station_of(job_, drawn_.sections[section].station).along.value;
        const auto rear = station_of(job_, drawn_.sections[section + 1].station).along.value;
        return std::any_of(drawn_.run_outs.begin(), drawn_.run_outs.end(), [&](const RunOut& run_out) {
            return run_out.name == name && front < run_out.along.value && run_out.along.value < rear;
        });
    }

    const Job& job_;
    const Drawn& drawn_;
    std::map<std::string, std::vector<std::size_t>> places_;  ///< Numbers of the sections that have a name.
};

std::string told(const std::vector<std::string>& names) {
    std::string words = names.front();
    const std::size_t count = std::min(names.size(), k_most_told);
    for (std::size_t i = 1; i < count; ++i) {
        words += (i + 1 == names.size() ? " and " : ", ") + names[i];
    }
    return names.size() > k_most_told ? words + " and " + std::to_string(names.size() - count) + " more" : words;
}

}  // namespace

std::vector<std::string> lacking_for_loft(const Job& job, const Drawn& drawn, bool closed, const std::string& name) {
    if (drawn.empty()) {
        return {"the sections of " + name};
    }
    std::vector<std::string> lacking = unfinished_sections(drawn, closed, name);
    if (drawn.sections.size() == 1) {
        lacking.push_back("a second section of " + name);
    }
    if (!lacking.empty()) {
        return lacking;
    }
    const Names names(job, drawn);
    for (std::size_t i = 0; i < drawn.sections.size(); ++i) {
        const auto lost = names.lost_at(i);
        if (!lost.empty()) {
            lacking.push_back(told(lost) + " of " + name + " at station " + drawn.sections[i].station + ", or where " +
                              (lost.size() == 1 ? "it runs out" : "they run out"));
        }
    }
    for (std::size_t i = 0; lacking.empty() && i + 1 < drawn.sections.size(); ++i) {
        const std::size_t least = closed ? 3 : 2;
        if (names.through(i) < least) {
            lacking.push_back(std::string(closed ? "three" : "two") + " nodes of " + name + " that stand at station " +
                              drawn.sections[i].station + " and at station " + drawn.sections[i + 1].station);
        }
    }
    return lacking;
}

}  // namespace sillwright::core
