#include "core/drawn_loft.h"

#include <algorithm>
#include <cassert>
#include <iterator>
#include <utility>

#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;

const Station& station_of(const Job& job, const std::string& name) {
    const auto found = std::find_if(job.stations.begin(), job.stations.end(),
                                    [&name](const Station& station) { return station.name == name; });
    assert(found != job.stations.end());
    return *found;
}

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
