#pragma once

#include <string>
#include <vector>

#include "core/buck/buck_plan.h"
#include "geometry/profile.h"

namespace sillwright::core {

/// Upright boards, `width` across and `height` high, both faces the same; the base is the last segment.
inline std::vector<Rib> hand_ribs(std::size_t count, double width, double height, double pitch = 200.0) {
    std::vector<Rib> ribs;
    for (std::size_t i = 0; i < count; ++i) {
        Rib rib;
        rib.label = "R" + std::to_string(i + 1);
        rib.x_mm = pitch * static_cast<double>(i);
        rib.thickness_mm = 12.0;
        const std::vector<Eigen::Vector2d> p{{width, 0}, {width, height}, {0, height}, {0, 0}};
        for (std::size_t k = 0; k < p.size(); ++k) {
            rib.outline.segments.push_back({geometry::LineSegment{p[k], p[(k + 1) % p.size()]}, 0});
        }
        rib.outline.closed = true;
        rib.far_outline = rib.outline;
        ribs.push_back(rib);
    }
    return ribs;
}

}  // namespace sillwright::core
