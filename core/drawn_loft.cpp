#include "core/drawn_loft.h"

#include <algorithm>
#include <cassert>
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
geometry::Status check_between(const geometry::Loft& loft) {
    const std::vector<Length> places = loft.key_places();
    for (std::size_t i = 0; i + 1 < places.size(); ++i) {
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
    if (const auto checked = check_between(loft.value()); !checked) {
        return geometry::Error{checked.error().code, what + ": " + checked.error().message};
    }
    return loft;
}

std::string place_words(const Job& job, Length along) {
    const auto behind = std::upper_bound(job.stations.begin(), job.stations.end(), along,
                                         [](Length at, const Station& station) { return at < station.along.value; });
    if (job.stations.size() < 2) {
        return mm_text(along, 0);
    }
    const auto next = std::clamp<std::ptrdiff_t>(behind - job.stations.begin(), 1,
                                                 static_cast<std::ptrdiff_t>(job.stations.size()) - 1);
    const Length from = job.stations[static_cast<std::size_t>(next - 1)].along.value;
    const Length to = job.stations[static_cast<std::size_t>(next)].along.value;
    const double place = static_cast<double>(next) + (along - from) / (to - from);
    return fixed_text(place, 1) + " · " + mm_text(along, 0);
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
