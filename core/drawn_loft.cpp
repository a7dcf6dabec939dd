#include "core/drawn_loft.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>
#include <utility>

#include "core/number_text.h"
#include "core/section_check.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;

const Station& station_of(const Job& job, const std::string& name) {
    const auto found = std::find_if(job.stations.begin(), job.stations.end(),
                                    [&name](const Station& station) { return station.name == name; });
    assert(found != job.stations.end());
    return *found;
}

namespace {

/// A section is looked at this often between two stations or run-outs.
constexpr int k_probes = 4;
/// A place is at a station from this near on: lengths are told to the whole millimetre.
constexpr Length k_at_station = geometry::millimetres(0.5);

/// The section as it is at a place; features that are not there are left out.
Section section_at(const geometry::Loft& loft, Length along) {
    Section section;
    const auto nodes = loft.nodes_at(along);
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        if (loft.present_at(i, along)) {
            const Eigen::Vector2d& p = nodes[i].p_mm;
            section.nodes.push_back(
                {{}, loft.names()[i], {geometry::millimetres(p.x()), {}}, {geometry::millimetres(p.y()), {}}, {}, {}});
        }
    }
    return section;
}

/// Sections that are each sound may cross themselves on the way from one to the next.
geometry::Status check_between(const geometry::Loft& loft, geometry::AlongRange stretch) {
    const std::vector<Length> places = loft.key_places();
    for (std::size_t i = 0; i + 1 < places.size(); ++i) {
        if (places[i + 1] <= stretch.from || places[i] >= stretch.to) {
            continue;
        }
        for (int probe = 1; probe < k_probes; ++probe) {
            const Length along = places[i] + (places[i + 1] - places[i]) * (static_cast<double>(probe) / k_probes);
            const Section section = section_at(loft, along);
            if (const auto cross = first_crossing(section, loft.closed())) {
                return geometry::Error{
                    geometry::ErrorCode::does_not_fit,
                    "At " + loft.place(along) + " the section line crosses itself: the straight after '" +
                        section.nodes[cross->first].name + "' meets the one after '" +
                        section.nodes[cross->second].name +
                        "'. Check these nodes at the stations on either side, or draw a section between."};
            }
        }
    }
    return std::monostate{};
}

/// "1", "2", ... in order: only then does "3.9" say where a place is.
bool numbered_in_order(const std::vector<Station>& stations) {
    for (std::size_t i = 0; i < stations.size(); ++i) {
        if (stations[i].name != std::to_string(i + 1)) {
            return false;
        }
    }
    return true;
}

/// A place's words; those of a bare number or length are led by "at" in a sentence.
struct PlaceWords {
    bool needs_at;
    std::string text;
};

PlaceWords words_of(const Job& job, Length along) {
    const std::vector<Station>& stations = job.stations;
    const std::string length = mm_text(along, 0);
    if (stations.size() < 2) {
        return {true, length};
    }
    const std::string tail = " · " + length;
    if (along < stations.front().along.value - k_at_station) {
        return {false, "ahead of " + stations.front().name + tail};
    }
    if (along > stations.back().along.value + k_at_station) {
        return {false, "behind " + stations.back().name + tail};
    }
    const auto behind = std::upper_bound(stations.begin(), stations.end(), along,
                                         [](Length at, const Station& station) { return at < station.along.value; });
    const auto next =
        std::clamp<std::ptrdiff_t>(behind - stations.begin(), 1, static_cast<std::ptrdiff_t>(stations.size()) - 1);
    const Station& from = stations[static_cast<std::size_t>(next - 1)];
    const Station& to = stations[static_cast<std::size_t>(next)];
    if (numbered_in_order(stations)) {
        const double part = (along - from.along.value) / (to.along.value - from.along.value);
        return {true, fixed_text(static_cast<double>(next) + std::clamp(part, 0.0, 1.0), 1) + tail};
    }
    for (const Station* station : {&from, &to}) {
        if (std::abs(in_mm(along - station->along.value)) <= in_mm(k_at_station)) {
            return {false, "at " + station->name + tail};
        }
    }
    return {false, "between " + from.name + " and " + to.name + tail};
}

}  // namespace

geometry::Result<geometry::Loft> loft_of(const Job& job, const Drawn& drawn, bool closed, const std::string& what) {
    std::vector<geometry::LoftSection> sections;
    for (const Section& section : drawn.sections) {
        geometry::LoftSection one{station_of(job, section.station).along.value, {}};
        for (const Node& node : section.nodes) {
            one.nodes.push_back({node.name, {in_mm(node.out.value), in_mm(node.up.value)}, node.radius.value});
        }
        sections.push_back(std::move(one));
    }
    std::vector<geometry::RunOut> run_outs;
    for (const RunOut& run_out : drawn.run_outs) {
        run_outs.push_back({run_out.name, run_out.along.value});
    }
    auto loft = geometry::Loft::make(std::move(sections), std::move(run_outs), closed);
    if (!loft) {
        return geometry::Error{loft.error().code, what + ": " + loft.error().message};
    }
    if (const auto checked = check_stretch(loft.value(), {loft.value().front(), loft.value().rear()}, what); !checked) {
        return checked.error();
    }
    return loft;
}

geometry::Status check_stretch(const geometry::Loft& loft, geometry::AlongRange stretch, const std::string& what) {
    const auto checked = check_between(loft, stretch);
    return checked ? checked : geometry::Error{checked.error().code, what + ": " + checked.error().message};
}

std::string place_words(const Job& job, Length along) {
    return words_of(job, along).text;
}

std::string at_place_words(const Job& job, Length along) {
    const PlaceWords words = words_of(job, along);
    return words.needs_at ? "at " + words.text : words.text;
}

std::string station_words(const Job& job, Length from, Length to) {
    if (job.stations.empty()) {
        return {};
    }
    auto first = std::upper_bound(job.stations.begin(), job.stations.end(), from,
                                  [](Length at, const Station& station) { return at < station.along.value; });
    first = first == job.stations.begin() ? first : std::prev(first);
    auto last = std::lower_bound(job.stations.begin(), job.stations.end(), to,
                                 [](const Station& station, Length at) { return station.along.value < at; });
    last = last == job.stations.end() ? std::prev(last) : last;
    return first == last ? "station " + first->name : "stations " + first->name + " to " + last->name;
}

}  // namespace sillwright::core
