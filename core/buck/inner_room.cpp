#include "core/buck/inner_room.h"

#include <algorithm>
#include <cmath>

namespace sillwright::core {

namespace {

/// Far below what an engraving bit can show.
constexpr geometry::Length k_chord = geometry::millimetres(0.01);
constexpr double k_row_mm = 0.5;

std::optional<Stretch> widest_of(const std::vector<Stretch>& stretches) {
    const auto found = std::max_element(stretches.begin(), stretches.end(),
                                        [](const Stretch& a, const Stretch& b) { return a.width_mm() < b.width_mm(); });
    return found == stretches.end() ? std::nullopt : std::optional(*found);
}

/// What two rows of stretches share.
std::vector<Stretch> shared(const std::vector<Stretch>& a, const std::vector<Stretch>& b) {
    std::vector<Stretch> both;
    for (const Stretch& p : a) {
        for (const Stretch& q : b) {
            const Stretch common{std::max(p.from_mm, q.from_mm), std::min(p.to_mm, q.to_mm)};
            if (common.width_mm() > 0.0) {
                both.push_back(common);
            }
        }
    }
    return both;
}

}  // namespace

geometry::Result<InnerRoom> InnerRoom::of(const geometry::Profile& outline) {
    auto points = geometry::polyline(outline, k_chord);
    if (!points) {
        return points.error();
    }
    InnerRoom room;
    room.points_ = std::move(points).value();
    const auto [low, high] =
        std::minmax_element(room.points_.begin(), room.points_.end(),
                            [](const Eigen::Vector2d& a, const Eigen::Vector2d& b) { return a.y() < b.y(); });
    room.bottom_mm_ = low->y();
    room.top_mm_ = high->y();
    return room;
}

std::vector<Stretch> InnerRoom::stretches(double y_mm) const {
    std::vector<double> crossings;
    for (std::size_t i = 0; i + 1 < points_.size(); ++i) {
        const Eigen::Vector2d& a = points_[i];
        const Eigen::Vector2d& b = points_[i + 1];
        // Each point belongs to the upper side, so that a corner is counted once or twice, as it should be.
        if ((a.y() <= y_mm) != (b.y() <= y_mm)) {
            crossings.push_back(a.x() + (b.x() - a.x()) * (y_mm - a.y()) / (b.y() - a.y()));
        }
    }
    std::sort(crossings.begin(), crossings.end());
    std::vector<Stretch> inside;
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
        inside.push_back({crossings[i], crossings[i + 1]});
    }
    return inside;
}

std::optional<Stretch> InnerRoom::widest(double y_mm) const {
    return widest_of(stretches(y_mm));
}

std::optional<Stretch> InnerRoom::widest_between(double low_mm, double high_mm) const {
    const int rows = std::max(1, static_cast<int>(std::ceil((high_mm - low_mm) / k_row_mm)));
    std::vector<Stretch> room = stretches(low_mm);
    for (int row = 1; row <= rows && !room.empty(); ++row) {
        room = shared(room, stretches(low_mm + (high_mm - low_mm) * row / rows));
    }
    return widest_of(room);
}

}  // namespace sillwright::core
