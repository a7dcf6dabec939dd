#include "app/link/nearest_stretch.h"

#include <algorithm>

#include "app/link/section_nodes.h"

namespace sillwright::app {

using Eigen::Vector2d;
using geometry::in_mm;

namespace {

Vector2d place_of(const core::Node& node) {
    return {in_mm(node.out.value), in_mm(node.up.value)};
}

Vector2d nearest(const Vector2d& from, const Vector2d& to, const Vector2d& p) {
    const Vector2d run = to - from;
    const double length2 = run.squaredNorm();
    return length2 > 0.0 ? Vector2d(from + std::clamp((p - from).dot(run) / length2, 0.0, 1.0) * run) : from;
}

}  // namespace

std::optional<Stretch> nearest_stretch(const core::Job& job, geometry::Length along, const Vector2d& at_mm,
                                       geometry::Length reach) {
    const core::Station* station = station_at(job, along);
    if (station == nullptr) {
        return std::nullopt;
    }
    std::optional<Stretch> best;
    double least = in_mm(reach);
    for (const core::DrawnId id : core::all_drawn(job)) {
        const std::vector<core::Section>& sections = core::drawn(job, id).sections;
        for (std::size_t section = 0; section < sections.size(); ++section) {
            const std::vector<core::Node>& nodes = sections[section].nodes;
            if (sections[section].station != station->name) {
                continue;
            }
            const std::size_t straights = nodes.size() < 2        ? 0
                                          : core::closed(job, id) ? nodes.size()
                                                                  : nodes.size() - 1;
            for (std::size_t i = 0; i < straights; ++i) {
                const Vector2d p = nearest(place_of(nodes[i]), place_of(nodes[(i + 1) % nodes.size()]), at_mm);
                if ((p - at_mm).norm() <= least) {
                    least = (p - at_mm).norm();
                    best = Stretch{id, section, i, p};
                }
            }
        }
    }
    return best;
}

}  // namespace sillwright::app
